"""What is inside an enclosure, as tables: zones, openings, bays, seats, and where the sound leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from catalog.formats import ENCLOSURES
from catalog.models import Enclosure
from catalog.models.vocabulary import FACES, DriveForm, SeatRole
from frontend.contexts.columns import word_of
from frontend.contexts.inside_cells import Inside, Section
from frontend.contexts.provenance import Book
from frontend.contexts.tables import Cell, Column, Table
from frontend.contexts.values import value_text
from frontend.pictures.air.figures import AirFigures
from frontend.templatetags.quantities import NOTHING, exact, with_unit
from frontend.templatetags.words import kind as opening_kind
from frontend.templatetags.words import place, role, sentence_case

_ROOM = "the room"


def inside_sections(row: Enclosure, found: Book, drawn: AirFigures) -> tuple[Section, ...]:
    """Return the tables of an enclosure fetched with its wiring; letters and numbers are those of its picture."""
    zones = {zone.pk: place(zone.code) for zone in row.zones.all()}
    openings = {opening.pk: place(opening.code) for opening in row.openings.all()}
    letters = {zone.code: zone.letter for zone in drawn.zones}
    numbers = {stream.code: stream.number for stream in drawn.streams}
    of = {key: Inside(found, key) for key in ("openings", "zones", "bay_groups", "seats", "sound_shares")}
    return (
        of["openings"].section(
            "Every opening",
            "Every way for air from one place to another",
            _openings(row, of["openings"], zones, numbers),
            narrowed(row),
        ),
        of["zones"].section(
            "Zones of air", "Parts of the inside whose air is taken as well mixed", _zones(row, of["zones"], letters)
        ),
        of["bay_groups"].section(
            "Bays for drives", "In the order in which they are filled", _bays(row, of["bay_groups"], zones, openings)
        ),
        of["seats"].section(
            "Where parts sit",
            "A preheat factor is 1 in well-mixed air, below 1 where an opening feeds the part",
            _seats(row, of["seats"], zones, openings),
        ),
        of["sound_shares"].section(
            "Where the sound leaves",
            "The share of each source's sound power by face",
            _sound(row, of["sound_shares"], found),
        ),
    )


def _zones(row: Enclosure, inside: Inside, letters: Mapping[str, str]) -> Table:
    columns = (Column("Zone"), Column("Middle: right, rear, up", True), Column("Conductance to the room", True))
    rows = tuple(
        (
            Cell(sentence_case(place(one.code)), quiet=f"{letters[one.code]} in the picture"),
            Cell(_position(one)),
            inside.cell(one, "wall_w_k"),
        )
        for one in row.zones.all()
    )
    return Table("Zones of air", columns, rows, "It has no zones.")


def _openings(row: Enclosure, inside: Inside, zones: dict[int, str], numbers: Mapping[str, int]) -> Table:
    heads = (
        "Opening",
        "Meant to blow",
        "Face",
        "Free area",
        "Loss, velocity heads",
        "Filter",
        "Fans",
        "Middle",
        "Height",
    )
    columns = tuple(Column(head, head in ("Free area", "Loss, velocity heads", "Height")) for head in heads)
    rows = []
    for one in row.openings.all():
        ways = (zones.get(key, _ROOM) for key in (one.from_zone_id, one.to_zone_id))
        rows.append(
            (
                Cell(sentence_case(place(one.code)), quiet=f"no. {numbers[one.code]}, {opening_kind(one.kind)}"),
                Cell(" → ".join(ways), quiet="either way" if one.two_way else ""),
                Cell(one.face),
                inside.cell(one, "area_cm2"),
                inside.cell(one, "loss_coefficient"),
                _filter(one, inside),
                _fan_places(one),
                Cell(_position(one)),
                inside.cell(one, "height_mm"),
            )
        )
    return Table("Openings", columns, tuple(rows), "It has no openings.")


def _filter(one: Any, inside: Inside) -> Cell:
    if not one.filter_class:
        return Cell("none")
    losses = (inside.cell(one, f"filter.{key}", f"filter_{key}") for key in ("linear_pa_s_m", "quadratic_pa_s2_m2"))
    words = word_of(inside.layout.columns["filter_class"], one.filter_class)
    face = inside.cell(one, "filter.area_cm2", "filter_area_cm2").words
    return Cell(f"{words}, {face}", quiet="; ".join(loss.words for loss in losses))


def _fan_places(one: Any) -> Cell:
    if not one.fan_count:
        return Cell(NOTHING)
    more = [one.side, "may be empty" if one.may_be_empty else ""]
    more.append(f"{exact(one.obstruction_db, 'dB')} louder here" if one.obstruction_db else "")
    return Cell(f"{one.fan_count} × {exact(one.fan_size_mm, 'mm')}", quiet=", ".join(filter(None, more)))


def _bays(row: Enclosure, inside: Inside, zones: dict[int, str], openings: dict[int, str]) -> Table:
    figures = {
        "gap_area_cm2": "Free area beside a drive",
        "empty_area_cm2": "Clear area, empty",
        "loss_filled": "Loss, filled",
        "loss_empty": "Loss, empty",
        "maldistribution": "Mean over slowest gap",
    }
    columns = (
        *(Column("Bays"), Column("How many"), Column("Air")),
        *(Column(words, True) for words in figures.values()),
        Column("Use"),
    )
    forms = dict(DriveForm.choices)
    rows = tuple(
        (
            Cell(sentence_case(place(one.code))),
            Cell(f"{one.count} × {forms[one.form]}", quiet=f"{one.rows} behind each other" if one.rows > 1 else ""),
            Cell(f"through {openings[one.opening_id]}" if one.opening_id else "still air", quiet=zones[one.zone_id]),
            *(inside.cell(one, key) for key in figures),
            Cell(_use(one)),
        )
        for one in row.bay_groups.all()
    )
    return Table("Bays", columns, rows, "It has no bays for drives.")


def _use(one: Any) -> str:
    words = ("while it runs" if one.hot_swap else "", "without tools" if one.tool_free else "")
    return ", ".join(filter(None, words)) or NOTHING


def _seats(row: Enclosure, inside: Inside, zones: dict[int, str], openings: dict[int, str]) -> Table:
    columns = (
        *(Column("Part"), Column("Zone"), Column("Fed by")),
        *(Column("Preheat factor", True), Column("Cross-section of its air", True)),
    )
    roles = dict(SeatRole.choices)
    rows = tuple(
        (
            Cell(sentence_case(str(roles.get(one.role, one.role)))),
            Cell(zones[one.zone_id]),
            Cell(openings[one.fed_by_id] if one.fed_by_id else NOTHING),
            inside.cell(one, "preheat"),
            inside.cell(one, "cross_area_cm2"),
        )
        for one in row.seats.all()
    )
    return Table("Seats", columns, rows, "It has no seats.")


def _sound(row: Enclosure, inside: Inside, found: Book) -> Table:
    columns = (Column("Sound of"), *(Column(sentence_case(face), True) for face in FACES))
    source = found.source_of(ENCLOSURES, "insertion_loss_db")
    losses = tuple(_loss(row, face, found) for face in FACES)
    rows = [(Cell("Held back by the face", quiet=f"insertion loss, from {source.code}, {source.kind}"), *losses)]
    rows += [
        (Cell(sentence_case(_sounding(one.place))), *(_through(one, face, inside.cell) for face in FACES))
        for one in row.sound_shares.all()
    ]
    return Table("Shares of sound", columns, tuple(rows))


def _sounding(code: str) -> str:
    return role(code) if code in ("processor", "graphics", "drives", "supply") else place(code)


def _loss(row: Enclosure, face: str, found: Book) -> Cell:
    column = ENCLOSURES.columns[f"loss_{face}_db"]
    u = found.uncertainty(ENCLOSURES, f"insertion_loss_db.{face}", column)
    return Cell(value_text(column, getattr(row, column.name), u))


def _through(one: Any, face: str, cell: Callable[[Any, str], Cell]) -> Cell:
    found = cell(one, face)
    return Cell(NOTHING if not getattr(one, face) else found.words, quiet=found.quiet)


def _position(one: Any) -> str:
    return with_unit(", ".join(exact(value) for value in (one.x_mm, one.y_mm, one.z_mm)), "mm")


def narrowed(row: Enclosure) -> Iterator[str]:
    """Yield a sentence for each opening that a long card narrows."""
    for one in row.openings.all():
        if one.narrowed_share:
            share = with_unit(exact(100 * one.narrowed_share), "%")
            beyond = exact(one.narrowed_beyond_mm, "mm")
            yield f"Cards longer than {beyond} take {share} of the area of {place(one.code)}."
