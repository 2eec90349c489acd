"""The search written out plainly: one candidate at a time at every setting, no bounds, nothing kept or shared.

It shares no code with ``advisor.engine.search``: of the engine it calls the checks of fit, the pipeline for one
build, and the ends and the mean of the criteria.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

from advisor.engine import desirability
from advisor.engine.boards import default_board
from advisor.engine.case.case import prepare
from advisor.engine.fit import SCALES, Build, first_misfit
from advisor.engine.fit.parts import chosen_controllers
from advisor.engine.inputs import Brief, Catalogue, Enclosure
from advisor.engine.pipeline import Build as WholeBuild
from advisor.engine.pipeline import settings_of
from advisor.engine.storage.bays import plan_bays
from advisor.engine.storage.layouts import drives_for
from tests.engine.search.plain_candidates import Parts, candidates, fan_watts, parts_price, usable
from tests.engine.search.plain_grid import Grid


@dataclass(frozen=True)
class Judged:
    """An accepted candidate."""

    id: str
    price: float
    rows: tuple[int, ...]
    steps: tuple[int, ...]
    figures: tuple[float, float, float]
    desirability: float
    spare_places: int

    @property
    def order(self) -> tuple[float, float, str]:
        return -round(self.desirability, 10), round(self.price, 6), self.id


@dataclass(frozen=True)
class Missed:
    """A rejected candidate: the code it is counted under, and how far off it is."""

    id: str
    price: float
    code: str
    tier: int
    miss: float

    @property
    def order(self) -> tuple[int, float, float, str]:
        return self.tier, round(self.miss, 10), round(self.price, 6), self.id


@dataclass
class Outcome:
    """Every candidate of one enclosure."""

    accepted: list[Judged] = field(default_factory=list)
    missed: list[Missed] = field(default_factory=list)

    @property
    def considered(self) -> int:
        return len(self.accepted) + len(self.missed)

    @property
    def rejected(self) -> dict[str, int]:
        return dict(Counter(one.code for one in self.missed))

    @property
    def best(self) -> list[Judged]:
        return sorted(self.accepted, key=lambda one: one.order)[:6]

    @property
    def nearest_miss(self) -> Missed | None:
        return None if self.accepted else min(self.missed, key=lambda one: one.order, default=None)


def judge_all(brief: Brief, catalogue: Catalogue, enclosure: Enclosure) -> Outcome:
    """Judge every candidate of one enclosure."""
    outcome = Outcome()
    for parts in candidates(brief, catalogue, enclosure):
        found = judge(brief, catalogue, parts)
        (outcome.accepted if isinstance(found, Judged) else outcome.missed).append(found)
    return outcome


def judge(brief: Brief, catalogue: Catalogue, parts: Parts) -> Judged | Missed:
    """Judge one candidate: does it fit, can it be paid for, does some setting meet all."""
    board = default_board(brief.board_form)
    adapters = tuple(usable(catalogue.adapters, brief))
    controllers = tuple(usable(catalogue.controllers, brief))
    build = Build(
        parts.enclosure, board, parts.drive, parts.cooler, parts.supply, fan_watts(parts), adapters, controllers
    )
    misfit = first_misfit(brief, build)
    count = (drives_for(brief, parts.drive) or 0) if parts.drive else 0
    price = parts_price(parts, count)
    if misfit is not None:
        return Missed(parts.id, price, misfit.code, 1, misfit.shortfall)
    added = chosen_controllers(parts.enclosure, brief, board, count, controllers)
    bays = plan_bays(parts.enclosure, brief.drive_form, count, brief.spare_bays, brief.hot_swap, adapters)
    frames = sum(number * next(one.price for one in adapters if one.code == code) for code, number in bays.adapters)
    price = round(price + frames + sum(part.price for part in added), 6)
    case = prepare(brief, parts.enclosure, catalogue, bays, added, count)
    whole = WholeBuild(case, parts.fans, parts.cooler, parts.supply, parts.drive)
    grid = Grid(brief, parts.fans, parts.cooler, settings_of(whole))
    over = 0.0 if brief.budget is None else max(price - brief.budget, 0.0) / brief.budget / SCALES["over_budget"][0]
    choice = grid.best_choice()
    if over > 0 or choice is None:
        code = "over_budget" if over > 0 else grid.first_failure()
        return Missed(parts.id, price, code, 0, max(grid.least_miss(), over))
    dear, cheap = desirability.price_ends(brief, count)
    fixed = {
        "bays": desirability.ramp(bays.free_places - brief.spare_bays, *desirability.SPARE_BAYS),
        "service": desirability.ramp(desirability.service_score(parts.enclosure), *desirability.SERVICE_SCORE),
        "price": desirability.ramp(price, dear, cheap),
    }
    score = desirability.combine(grid.criteria(choice) | fixed, desirability.weights_of(brief))
    rows, steps = zip(*(grid.row_and_step(s, cell) for s, cell in enumerate(choice)), strict=True)
    spare = bays.free_places - brief.spare_bays
    return Judged(parts.id, price, rows, steps, grid.worst(choice), float(score), spare)


@dataclass(frozen=True)
class Listed:
    """An entry of the plain shortlist."""

    best: Judged
    rank: int
    tied_with: frozenset[str]
    alternatives: tuple[Judged, ...]


def plain_shortlist(outcomes: list[Outcome], resolved: Callable[[Judged, Judged], bool]) -> list[Listed]:
    """Best build of each enclosure in order; a rank ends where an entry can be told apart from its leader."""
    groups = sorted((outcome.best for outcome in outcomes if outcome.accepted), key=lambda best: best[0].order)[:20]
    leaders = [group[0] for group in groups]
    entries, leader = [], 0
    for place, group in enumerate(groups):
        if resolved(leaders[leader], group[0]):
            leader = place
        tied = frozenset(o.id for o in leaders if o.id != group[0].id and not resolved(o, group[0]))
        entries.append(Listed(group[0], leader + 1, tied, tuple(group[1:])))
    return entries
