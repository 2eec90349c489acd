"""From the parts of a candidate to the build that the pipeline computes."""

from __future__ import annotations

from advisor.engine.case.case import Case, prepare
from advisor.engine.case.fans import FanSet
from advisor.engine.case.named import named_parts
from advisor.engine.errors import InputError
from advisor.engine.fit.parts import chosen_controllers
from advisor.engine.inputs import Brief, Catalogue, Cooler, Drive, Enclosure, Supply
from advisor.engine.pipeline import Build
from advisor.engine.storage.bays import BayShortfall, plan_bays
from advisor.engine.storage.layouts import drives_for


def case_of(brief: Brief, catalogue: Catalogue, enclosure: Enclosure, drive: Drive | None) -> Case:
    """Prepare an enclosure with as many drives of a model as a brief asks for.

    ``catalogue`` is what the brief allows; adapters and controllers are taken from it as they are needed.
    """
    count = drives_for(brief, drive) if drive else 0
    if count is None:
        raise InputError(f"no number of {drive.code if drive else 'drives'} holds {brief.usable_capacity_tb} TB")
    bays = plan_bays(enclosure, brief.drive_form, count, brief.spare_bays, brief.hot_swap, catalogue.adapters)
    if isinstance(bays, BayShortfall):
        raise InputError(f"{enclosure.code} has {bays.places} places for drives and needs {bays.needed}")
    board = named_parts(brief, catalogue).board
    controllers = chosen_controllers(enclosure, brief, board, count, catalogue.controllers)
    if controllers is None:
        raise InputError(f"{enclosure.code} has no slots for the controllers that {count} drives need")
    return prepare(brief, enclosure, catalogue, bays, controllers, count)


def build_of(
    brief: Brief,
    catalogue: Catalogue,
    enclosure: Enclosure,
    fans: FanSet,
    cooler: Cooler,
    supply: Supply,
    drive: Drive | None,
) -> Build:
    """Return the build that parts which fit together make."""
    return Build(case_of(brief, catalogue, enclosure, drive), fans, cooler, supply, drive)
