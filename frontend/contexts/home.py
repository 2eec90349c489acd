"""The first page: starting points, and what an answer looks like."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.access.objects import parts_to_choose_from
from advisor.engine.scenarios import SCENARIO_TABLE
from catalog.models import Enclosure
from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures.intervals import Intervals, noise_of_entries
from frontend.starting_points import POINTS, StartingPoint
from frontend.templatetags.quantities import share
from frontend.templatetags.words import scenario

if TYPE_CHECKING:
    from advisor.access.roles import Person

# Three invented enclosures for the example: name, level while working, its standard uncertainty [dBA].
_EXAMPLE = (("Box on the left", 26.8, 1.3), ("Box in the middle", 28.1, 1.4), ("Box on the right", 34.2, 1.5))
_EXAMPLE_TARGET_DBA = 32.0


@dataclass(frozen=True, slots=True)
class HomePage:
    """``key`` names each form of a starting point, so that two clicks make one study."""

    points: tuple[tuple[StartingPoint, str], ...]
    has_enclosures: bool
    example: Intervals


def home_page(person: Person) -> HomePage:
    """Return the first page, as whoever may choose from these enclosures sees it."""
    points = tuple((point, uuid.uuid4().hex) for point in POINTS)
    return HomePage(points, parts_to_choose_from(Enclosure, person).exists(), example())


def example() -> Intervals:
    """Return levels at the seat of the example's enclosures, drawn as those of a real study are."""
    entries = [
        {
            "parts": [{"role": "enclosure", "name": name}],
            "predictions": {"working": {"noise_dba": {"value": level, "standard_uncertainty": u}}},
        }
        for name, level, u in _EXAMPLE
    ]
    return noise_of_entries(entries, _EXAMPLE_TARGET_DBA, "working")


def scenarios() -> Table:
    """Return the scenarios in which each build is judged."""
    columns = (
        Column("Scenario"),
        Column("Processor", numeric=True),
        Column("Graphics", numeric=True),
        Column("Drives seek", numeric=True),
        Column("Room"),
        Column("Filters"),
    )
    rows = tuple(
        (
            Cell(scenario(one.code)),
            Cell(share(one.processor_share)),
            Cell(share(one.graphics_share)),
            Cell(share(one.seeking)),
            Cell("hottest day" if one.hot_room else "usual day"),
            Cell("half clogged" if one.half_clogged else "clean"),
        )
        for one in SCENARIO_TABLE
    )
    return Table("Shares of full heat, and of the time that drives seek, in each scenario", columns, rows)
