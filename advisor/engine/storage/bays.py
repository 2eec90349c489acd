"""Which drive goes into which bay, and which adapters that takes.

Groups are filled in the order in which the enclosure lists them. A 2.5-inch drive may lie in a 3.5-inch bay, one to a
bay; a 3.5-inch drive comes into a 5.25-inch bay by an adapter only. Adapters do not stand in one another.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.engine.inputs import Adapter, BayGroup, Enclosure
from advisor.engine.storage.form_factors import check_adapter
from advisor.engine.storage.selection import Item, Pick, best_picks

# Bay forms in which a drive of a form may sit without an adapter.
BARE_BAY_FORMS = {"3.5": ("3.5",), "2.5": ("2.5", "3.5")}


@dataclass(frozen=True, slots=True)
class BayFill:
    """What one bay group holds: bare, or in adapters of one kind (then a fill of its own).

    ``free_bays`` counts the group's bays with nothing in them; ``free_places`` the places left for a drive of the
    form that was asked for, in these bays or in these adapters.
    """

    group: str
    drives: int
    adapter: str
    adapter_count: int
    free_bays: int
    free_places: int


@dataclass(frozen=True, slots=True)
class BayPlan:
    """Every bay group of an enclosure with what it holds, in the enclosure's order."""

    fills: tuple[BayFill, ...]

    @property
    def free_places(self) -> int:
        """Places left for drives of the form that was asked for."""
        return sum(fill.free_places for fill in self.fills)

    @property
    def adapters(self) -> tuple[tuple[str, int], ...]:
        """Codes of the adapters that the plan needs, sorted, with their counts."""
        counts: Counter[str] = Counter()
        for fill in self.fills:
            counts[fill.adapter] += fill.adapter_count
        return tuple(sorted((code, count) for code, count in counts.items() if count))


@dataclass(frozen=True, slots=True)
class BayShortfall:
    """There is no plan: ``needed`` places (drives and spare bays) against the most that any adapters give."""

    needed: int
    places: int

    @property
    def missing(self) -> int:
        """Places too few."""
        return self.needed - self.places


@dataclass(frozen=True, slots=True, order=True)
class _Choice:
    """Adapters for the groups so far; compares as the choice between plans is made."""

    parts: int = 0
    price_units: int = 0
    codes: tuple[str, ...] = ()
    fewer_late: tuple[int, ...] = ()  # prefers adapters in groups listed earlier
    by_group: tuple[tuple[str, ...], ...] = ()

    def then(self, pick: Pick) -> _Choice:
        return _Choice(
            self.parts + pick.parts,
            self.price_units + pick.price_units,
            tuple(sorted(self.codes + pick.codes)),
            (*self.fewer_late, -pick.parts),
            (*self.by_group, pick.codes),
        )


def plan_bays(
    enclosure: Enclosure,
    drive_form: str,
    drive_count: int,
    spare_bays: int = 0,
    hot_swap: bool = False,
    adapters: Sequence[Adapter] = (),
) -> BayPlan | BayShortfall:
    """Return where the drives of a build go, by the fewest adapters, then the cheapest, then the first by code.

    Parameters
    ----------
    enclosure : Enclosure
    drive_form : str
        Form of all drives: "3.5" or "2.5".
    drive_count, spare_bays : int
        Drives to place, and places for further drives of that form that must stay free.
    hot_swap : bool
        Whether each place must let its drive be changed in service.
    adapters : sequence of Adapter
        Those that may be bought, any number of each.

    Examples
    --------
    >>> from advisor.engine.inputs import Service
    >>> def group(code, form, count):
    ...     return BayGroup(code, form, count, "main", "", 0.001, 0.002, 4.0, 1.0)
    >>> groups = (group("cage", "3.5", 6), group("top", "5.25", 3))
    >>> service = Service(False, False, False, 0.02, 2)
    >>> box = Enclosure("E", "", "", (0.2, 0.5, 0.5), 9.0, 90.0, (), (), groups, (), (), 0.16, 0.3, 7, (), 0.2, "", {},
    ...                 {}, service)
    >>> adapter = Adapter("five", "", "5.25", 3, "3.5", 5, 0.001, 4.0, 60.0)
    >>> plan = plan_bays(box, "3.5", 10, adapters=[adapter])
    >>> [(fill.group, fill.drives, fill.adapter, fill.free_places) for fill in plan.fills]
    [('cage', 6, '', 0), ('top', 4, 'five', 1)]
    >>> plan_bays(box, "3.5", 12, adapters=[adapter])
    BayShortfall(needed=12, places=11)
    """
    needed = drive_count + spare_bays
    usable = [one for one in adapters if one.to_form == drive_form and (one.hot_swap or not hot_swap)]
    for adapter in usable:
        check_adapter(adapter)
    options = [_group_options(group, drive_form, hot_swap, usable) for group in enclosure.bay_groups]
    best = {0: _Choice()}
    for option in options:
        best = _with_group(best, option, needed)
    if max(best) < needed:
        return BayShortfall(needed, max(best))
    counts = {adapter.code: adapter for adapter in usable}
    return BayPlan(_fills(enclosure, best[needed].by_group, drive_form, drive_count, hot_swap, counts))


def _bare_places(group: BayGroup, drive_form: str, hot_swap: bool) -> int:
    fits = group.form in BARE_BAY_FORMS[drive_form] and (group.hot_swap or not hot_swap)
    return group.count if fits else 0


def _group_options(
    group: BayGroup, drive_form: str, hot_swap: bool, adapters: Sequence[Adapter]
) -> list[tuple[int, Pick]]:
    """Return (places for drives, adapters taken) for each way to equip a group."""
    items = [Item(one.code, one.bays, one.drives, one.price) for one in adapters if one.from_form == group.form]
    bare = 1 if _bare_places(group, drive_form, hot_swap) else 0
    picks = best_picks(items, group.count)
    return [(gain + bare * (group.count - used), pick) for (used, gain), pick in picks.items()]


def _with_group(best: dict[int, _Choice], options: list[tuple[int, Pick]], needed: int) -> dict[int, _Choice]:
    """Return the best choice by places reached, up to those needed, once a further group is equipped."""
    merged: dict[int, _Choice] = {}
    for places, choice in best.items():
        for gain, pick in options:
            reached, after = min(places + gain, needed), choice.then(pick)
            merged[reached] = min(merged.get(reached, after), after)
    return merged


def _fills(
    enclosure: Enclosure,
    by_group: tuple[tuple[str, ...], ...],
    drive_form: str,
    drive_count: int,
    hot_swap: bool,
    adapters: dict[str, Adapter],
) -> tuple[BayFill, ...]:
    fills, left = [], drive_count
    for group, codes in zip(enclosure.bay_groups, by_group, strict=True):
        bare_bays = group.count - sum(adapters[code].bays for code in codes)
        places = min(_bare_places(group, drive_form, hot_swap), bare_bays)
        if bare_bays or not codes:
            drives = min(left, places)
            fills.append(BayFill(group.code, drives, "", 0, bare_bays - drives, places - drives))
            left -= drives
        for code, count in sorted(Counter(codes).items()):
            places = count * adapters[code].drives
            drives = min(left, places)
            fills.append(BayFill(group.code, drives, code, count, 0, places - drives))
            left -= drives
    return tuple(fills)
