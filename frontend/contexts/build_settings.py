"""How a build is set up: the speed of every fan in every scenario, and what temperatures follow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.engine.inputs import SCENARIOS
from frontend.contexts.answers import headroom_words, part_words
from frontend.contexts.tables import Cell, Column, Table
from frontend.templatetags.quantities import figure, fixed, quantity
from frontend.templatetags.words import group, scenario, sentence_case

Record = Mapping[str, Any]
_GROUPS = ("intake", "exhaust", "cooler")
_END_WORDS = {"quietest": "As quiet as it gets", "coolest": "As cool as it gets"}
BY_SWITCH = (
    "“By switch” is a fan speed that a switch sets by hand: put it where the table says once, and leave it there in "
    "all scenarios."
)
BY_TEMPERATURE = (
    "The other speeds follow the temperature: give the board’s fan control a curve that turns each group at this "
    "speed, as the fan reports it, while the machine does what the column says."
)


def speeds(build: Record) -> Table:
    """Return the speeds to set, a row for every model of a group."""
    columns = (Column("Fans"), *(Column(scenario(code), numeric=True) for code in SCENARIOS))
    names = {line["part"]: line["name"] for line in build["parts"]}
    return Table("Speeds to set", columns, tuple(_speed_rows(build["settings"], names)), "No fan has a speed to set.")


def _speed_rows(settings: Record, names: Mapping[str, str]) -> Iterator[tuple[Cell, ...]]:
    for code in _GROUPS:
        first = settings[SCENARIOS[0]][code]
        how = "by switch" if first["manual"] else "by temperature"
        for model in first["fans"]:
            head = Cell(sentence_case(group(code)), quiet=f"{names.get(model, model)}, {how}")
            yield (head, *(Cell(_speed(settings[one][code]["fans"][model])) for one in SCENARIOS))


def _speed(rpm: float) -> str:
    return quantity(rpm, "rpm") if rpm else "at rest"


def speed_notes(build: Record) -> Iterator[str]:
    """Yield what the ways of setting a speed mean, those that occur."""
    first = [one for one in build["settings"][SCENARIOS[0]].values() if one["fans"]]
    if any(one["manual"] for one in first):
        yield BY_SWITCH
    if any(not one["manual"] for one in first):
        yield BY_TEMPERATURE if any(one["manual"] for one in first) else BY_TEMPERATURE.replace("The other s", "S")


def ends(build: Record) -> Table:
    """Return what the build is at its settings, and at both ends of what it can be set to within its limits."""
    columns = (
        Column("Set"),
        Column("Noise", numeric=True),
        Column("Headroom", numeric=True),
        *(Column(f"{scenario(code)}: intake / exhaust / cooler", numeric=True) for code in ("working", "hot_day")),
    )
    loud = max(
        one["noise_dba"]["value"] for one in build["predictions"].values() if one["noise_target_dba"] is not None
    )
    listed = [("As listed above", loud, build["headroom_k"], build["settings"])]
    listed += [
        (_END_WORDS[name], one["noise_dba"], one["headroom_k"], one["settings"]) for name, one in build["ends"].items()
    ]
    rows = tuple(
        (
            Cell(word),
            Cell(fixed(noise, "dBA")),
            Cell(headroom_words(left)),
            *(Cell(_together(settings[code])) for code in ("working", "hot_day")),
        )
        for word, noise, left, settings in listed
    )
    return Table("What else it can be set to within its limits", columns, rows if build["ends"] else ())


def _together(settings: Record) -> str:
    said = (settings[code]["speed_rpm"] for code in _GROUPS)
    return " / ".join("–" if rpm is None else quantity(rpm) for rpm in said) + "\u202frpm"


def warmth(build: Record) -> Table:
    """Return the temperature of every part in every scenario, with what its limit leaves."""
    columns = (
        Column("Part"),
        Column("Limit", numeric=True),
        *(Column(scenario(code), numeric=True) for code in SCENARIOS),
    )
    rows: dict[tuple[str, str], list[Cell]] = {}
    for code in SCENARIOS:
        for one in build["predictions"][code]["temperatures"]:
            head = [Cell(sentence_case(part_words(one))), Cell(quantity(one["limit_c"], "°C"))]
            cells = rows.setdefault((one["role"], one["place"]), head)
            left = headroom_words(one["headroom_k"]) + (" left" if one["headroom_k"] >= 0 else "")
            cells.append(Cell(figure(one["temperature_c"], "°C"), quiet=left))
    caption = "Warmest spot of each part with one standard uncertainty, and what its limit leaves at your confidence"
    return Table(caption, columns, tuple(tuple(cells) for cells in rows.values()))
