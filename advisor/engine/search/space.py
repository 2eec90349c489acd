"""The space of builds: which parts a study may combine in one enclosure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from advisor.engine.case.fans import FanSet, fan_choices
from advisor.engine.inputs import Brief, Catalogue, Cooler, Drive, Enclosure, Fan, Supply

_KINDS = ("enclosures", "coolers", "supplies", "drives", "adapters", "controllers")


def allowed(brief: Brief, catalogue: Catalogue) -> Catalogue:
    """Return the catalogue without what a brief excludes; of a kind of which it requires parts, only these are left.

    Fans are left whole here: a required fan has to be in the build, not be its only model (``Space``).
    """
    required, excluded = set(brief.required_parts), set(brief.excluded_parts)
    kinds = {}
    for kind in (*_KINDS, "fans"):
        parts = tuple(part for part in getattr(catalogue, kind) if part.code not in excluded)
        wanted = tuple(part for part in parts if part.code in required)
        kinds[kind] = wanted if wanted and kind != "fans" else parts
    return replace(catalogue, **kinds)


@dataclass(frozen=True)
class Space:
    """Everything that may be combined in one enclosure; its size is the number of candidates."""

    enclosure: Enclosure
    fan_sets: tuple[FanSet, ...]
    coolers: tuple[Cooler, ...]
    supplies: tuple[Supply, ...]
    drives: tuple[Drive | None, ...]

    @property
    def size(self) -> int:
        """Number of candidates."""
        return len(self.fan_sets) * self.per_fan_set

    @property
    def per_fan_set(self) -> int:
        """Number of candidates with one set of fans."""
        return len(self.coolers) * len(self.supplies) * len(self.drives)


def fan_sets(enclosure: Enclosure, fans: tuple[Fan, ...], required: tuple[str, ...]) -> tuple[FanSet, ...]:
    """Every combination of intake and exhaust fans that holds all required models."""
    needed = {fan.code for fan in fans if fan.code in required}
    sets = (
        FanSet(intake, exhaust)
        for intake in fan_choices(enclosure, "intake", fans)
        for exhaust in fan_choices(enclosure, "exhaust", fans)
    )
    return tuple(one for one in sets if needed <= {fan.code for _, fan in one.mounts})


def space_of(brief: Brief, catalogue: Catalogue, enclosure: Enclosure) -> Space:
    """Return the space of one enclosure; ``catalogue`` is what ``allowed`` left."""
    drives: tuple[Drive | None, ...] = tuple(
        drive
        for drive in catalogue.drives
        if drive.form == brief.drive_form and brief.drive_capacity_tb in (None, drive.capacity_tb)
    )
    if brief.drive_count == 0:
        drives = (None,)
    return Space(
        enclosure,
        fan_sets(enclosure, catalogue.fans, brief.required_parts),
        catalogue.coolers,
        catalogue.supplies,
        drives,
    )
