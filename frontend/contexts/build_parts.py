"""The parts of a build: what to buy and where it goes, what the brief brings, and how like builds differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from frontend.contexts.answers import build_address, headroom_words, part_address
from frontend.contexts.sentences import Speech
from frontend.contexts.tables import Cell, Column, Table
from frontend.templatetags.quantities import figure, fixed, money
from frontend.templatetags.words import place, role, sentence_case

Record = Mapping[str, Any]
_BOUGHT = (
    Column("Part"),
    Column("Pieces", numeric=True),
    Column("Where"),
    Column("Each", numeric=True),
    Column("Together", numeric=True),
)
_BROUGHT = (Column("Part"), Column("Pieces", numeric=True), Column("Where"))
_LIKE = (
    Column("What differs"),
    Column("Price", numeric=True),
    Column("Idle", numeric=True),
    Column("Working", numeric=True),
    Column("Headroom", numeric=True),
    Column("Worth", numeric=True),
)
# Parts by which builds of one enclosure may differ.
_CHOSEN = ("intake_fan", "exhaust_fan", "cooler", "supply", "drive", "adapter", "controller")


def bought(build: Record, currency: str) -> Table:
    """Return the shopping list; the last row is the sum."""
    lines = [line for line in build["parts"] if line["price"] is not None]
    rows = [
        (
            _part(line),
            Cell(str(line["quantity"])),
            Cell(_where(line)),
            Cell(money(line["price"], currency)),
            Cell(money(line["quantity"] * line["price"], currency)),
        )
        for line in lines
    ]
    total = (Cell("All of it"), Cell(""), Cell(""), Cell(""), Cell(money(build["price"], currency)))
    return Table("To buy", _BOUGHT, (*rows, total))


def brought(build: Record) -> Table:
    """Return what comes with the brief, whose prices are not part of the build's."""
    lines = [line for line in build["parts"] if line["price"] is None]
    rows = tuple((_part(line), Cell(str(line["quantity"])), Cell(_where(line))) for line in lines)
    return Table("Yours already, as the brief has it; not in the price", _BROUGHT, rows)


def _part(line: Record) -> Cell:
    address = part_address(line["role"], line["part"])
    name = line["name"] if line["price"] is not None else Speech({}).say(line["name"])
    return Cell(name, address, role(line["role"]))


def _where(line: Record) -> str:
    if not line["place"]:
        return ""
    if line["role"] in ("drive", "adapter"):
        return f"{place(line['place'])} bays"
    return "on the processor" if line["role"] == "cooler" else place(line["place"])


def alike(build: Record, family: Sequence[Record], currency: str, study: str) -> Table:
    """Return the builds of one enclosure beside the one that is looked at, which comes first."""
    others = [one for one in family if one["id"] != build["id"]]
    rows = tuple(_like(one, build, currency, study) for one in (build, *others)) if others else ()
    return Table("This build and the next best ones of its enclosure", _LIKE, rows, "The list holds no other build.")


def _like(one: Record, build: Record, currency: str, study: str) -> tuple[Cell, ...]:
    said = "; ".join(differences(one, build)) if one is not build else "this build"
    idle, working = (figure(one["predictions"][code]["noise_dba"], "dBA") for code in ("idle", "working"))
    return (
        Cell(sentence_case(said), "" if one is build else build_address(study, one["id"])),
        Cell(money(one["price"], currency)),
        Cell(idle),
        Cell(working),
        Cell(headroom_words(one["headroom_k"])),
        Cell(fixed(100 * one["desirability"], "%")),
    )


def differences(one: Record, other: Record) -> Iterator[str]:
    """Yield which parts a build has where another has others, with their places where only those differ."""
    for part_role in _CHOSEN:
        mine, theirs = _chosen(one, part_role), _chosen(other, part_role)
        if mine == theirs:
            continue
        moved = _pieces(mine) == _pieces(theirs)
        listed = [f"{name} in {_where(line)}" for name, line in mine] if moved else _pieces(mine)
        yield f"{role(part_role)} {' and '.join(listed)}" if mine else f"no {role(part_role)}"


def _chosen(build: Record, part_role: str) -> list[tuple[str, Record]]:
    """Lines of one role, each with its pieces and name."""
    lines = (line for line in build["parts"] if line["role"] == part_role)
    return [(line["name"], line) for line in sorted(lines, key=lambda line: (line["place"], line["name"]))]


def _pieces(chosen: Sequence[tuple[str, Record]]) -> list[str]:
    counts: dict[str, int] = {}
    for name, line in chosen:
        counts[name] = counts.get(name, 0) + line["quantity"]
    return [f"{many} × {name}" if many > 1 else name for name, many in sorted(counts.items())]
