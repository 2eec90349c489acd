"""Small random catalogues with a brief each, made from hand-written enclosures and invented parts, by a seed.

Every catalogue has an enclosure in which builds are likely to be found and one in which none can be; some parts have a
twin, equal in all but its code, so that builds tie.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from advisor.engine.inputs import SCENARIOS, Brief, Catalogue, Enclosure
from tests.engine import boxes
from tests.engine.make_parts import make_adapter, make_brief, make_controller
from tests.engine.search.plain_candidates import Parts, candidates, parts_price
from tests.engine.search.random_parts import draw_cooler, draw_drive, draw_fan, draw_supply

SMALL = 0.08
MORE_MOUNTS = (boxes.open_tower, boxes.cage_tower, boxes.two_size_tower)
FEW_MOUNTS = (boxes.vented_cube, boxes.vented_cube, boxes.resting_desk)
LEAST, MOST = 70, 140


@dataclass(frozen=True)
class Problem:
    """A brief and what may be chosen from."""

    brief: Brief
    catalogue: Catalogue


def problem(seed: int, least: int = LEAST, most: int = MOST) -> Problem:
    """Draw until the number of candidates is between ``least`` and ``most``."""
    rng = random.Random(seed)
    while True:
        catalogue = draw_catalogue(rng)
        brief = draw_brief(rng, catalogue)
        found = [list(candidates(brief, catalogue, box)) for box in catalogue.enclosures]
        if all(found) and least <= sum(map(len, found)) <= most and _with_twins(found[0]):
            prices = sorted(parts_price(one, brief.drive_count or 3) for one in found[0])
            if rng.random() < 0.25:
                brief = replace(brief, budget=prices[rng.randrange(len(prices) // 2, len(prices))])
            return Problem(brief, catalogue)


def _with_twins(found: Sequence[Parts]) -> bool:
    """Whether some candidate differs from another by a twin in the place of its first."""
    ids = {one.id for one in found}
    return any(one.replace("-twin", "") in ids for one in ids if "-twin" in one)


def draw_catalogue(rng: random.Random) -> Catalogue:
    """A handful of parts of every kind; in one kind each a twin of the first part."""
    enclosures = [draw_enclosure(rng, "e0", rng.choice([*3 * [MORE_MOUNTS], boxes.BOXES]))]
    if rng.random() < 0.3:
        enclosures.append(draw_enclosure(rng, "e1", FEW_MOUNTS))
    enclosures.append(hopeless(rng, "e9"))
    needed = {mount.fan_size_m for box in enclosures for mount in box.openings if mount.kind == "fan_mount"}
    needed.discard(SMALL)
    fans = [
        draw_fan(rng, f"f{size * 1000:.0f}-{k}", size) for size in sorted(needed) for k in range(rng.choice([2, 3, 4]))
    ]
    fans.append(draw_fan(rng, "f80", SMALL))
    kinds = {
        "fans": fans,
        "coolers": [draw_cooler(rng, f"c{k}", _odd(rng, k)) for k in range(rng.choice([2, 3, 4]))],
        "supplies": [draw_supply(rng, f"s{k}", _odd(rng, k)) for k in range(rng.choice([2, 2, 3]))],
        "drives": [draw_drive(rng, f"d{k}", _odd(rng, k)) for k in range(rng.choice([1, 2, 3]))],
    }
    twinned = rng.choice(list(kinds))
    first = kinds[twinned][0]
    kinds[twinned].append(replace(first, code=f"{first.code}-twin"))
    adapter = make_adapter(code=rng.choice(["a-five", "z-five"]), price=round(rng.uniform(20, 60), 1))
    controllers = (make_controller(), make_controller(code="four", ports=4, heat_w=6.0, price=40.0))
    return Catalogue(
        enclosures=tuple(enclosures), adapters=(adapter,), controllers=controllers,
        **{kind: tuple(sorted(parts, key=lambda part: part.code)) for kind, parts in kinds.items()},
    )  # fmt: skip


def _odd(rng: random.Random, place: int) -> bool:
    """Whether a part is one that may not fit; the first of its kind never is."""
    return place > 0 and rng.random() < 0.08


def draw_enclosure(rng: random.Random, code: str, known: Sequence[Callable[[str], Enclosure]]) -> Enclosure:
    """One of some hand-written enclosures, its price, sound and seats varied."""
    one = rng.choice(known)(code)
    quieter = rng.uniform(0, 4)
    return replace(
        one, price=round(rng.uniform(60, 240), 1), insertion_loss_u=rng.uniform(1, 2),
        insertion_loss_db={face: loss + quieter for face, loss in one.insertion_loss_db.items()},
        seats=tuple(replace(seat, preheat=seat.preheat * rng.uniform(0.8, 1.2)) for seat in one.seats),
    )  # fmt: skip


def hopeless(rng: random.Random, code: str) -> Enclosure:
    """An enclosure for 80 mm fans in which no build can be accepted: too large, too low, too loud or too hot."""
    one = draw_enclosure(rng, code, FEW_MOUNTS)
    small = tuple(replace(o, fan_size_m=SMALL) if o.kind == "fan_mount" else o for o in one.openings)
    one = replace(one, openings=small)
    how = rng.choice(["large", "low", "loud", "loud", "hot", "hot", "hot"])
    if how == "large":
        return replace(one, size_m=(rng.choice([0.62, 0.65]), *one.size_m[1:]))
    if how == "low":
        return replace(one, cooler_height_m=rng.uniform(0.05, 0.08))
    if how == "loud":
        return replace(one, insertion_loss_db=dict.fromkeys(one.insertion_loss_db, -rng.uniform(25, 35)))
    return replace(one, seats=tuple(replace(seat, preheat=20 * seat.preheat) for seat in one.seats))


def draw_brief(rng: random.Random, catalogue: Catalogue) -> Brief:
    """A brief that some builds meet and others do not."""
    choose, main = rng.choice, catalogue.enclosures[0]
    known = {
        "board_form": "micro_atx",
        "processor_watts": rng.uniform(35, 90),
        "noise_target_dba": rng.uniform(32, 41),
        "limit_processor_c": choose([75.0, 85.0, 90.0]),
        "limit_graphics_c": choose([85.0, 95.0]),
        "limit_drive_c": choose([68.0, 72.0, 75.0]),
        "ambient_c": rng.uniform(18, 24),
        "hot_day_c": rng.uniform(25, 29),
        "confidence": choose([0.8, 0.9, 0.95]),
        "max_width_m": 0.6,
        "spare_bays": choose([0, 0, 0, 1]),
        "ssd_count": choose([0, 1, 1, 3]),
        "processor_socket": choose(["", "", "", "S1"]),
        "seat_side": choose(["front", "left"]),
        "placement": choose(["open", "open", "under_desk"]),
        "noise_scenarios": choose([("idle", "working"), ("idle",), SCENARIOS]),
        "weights": {"price": choose([2.0, 4.0, 8.0]), "airflow": choose([0.0, 1.0]), "headroom": choose([1.0, 3.0])},
        "hot_swap": all(group.hot_swap for group in main.bay_groups) and rng.random() < 0.2,
        "altitude_m": choose([0.0, 0.0, 1200.0]),
    }
    if len(known["noise_scenarios"]) > 2:
        known["noise_target_dba"] += 5
    if rng.random() < 0.2:  # cool only when loud
        known |= {"processor_watts": rng.uniform(70, 110), "limit_processor_c": choose([60.0, 66.0, 72.0])}
        known |= {"noise_target_dba": rng.uniform(29, 34), "noise_scenarios": SCENARIOS}
    known |= _drives_wanted(rng, _bays(main) - known["spare_bays"]) | _graphics(rng)
    if rng.random() < 0.15:
        known["required_parts"] = (choose(choose([catalogue.coolers, catalogue.supplies, catalogue.fans])).code,)
    if rng.random() < 0.15:
        known["excluded_parts"] = (choose(choose([catalogue.coolers, catalogue.supplies, catalogue.fans])).code,)
    return make_brief(**known)


def _bays(enclosure: Enclosure) -> int:
    return sum(group.count for group in enclosure.bay_groups if group.form == "3.5")


def _drives_wanted(rng: random.Random, bays: int) -> dict:
    if rng.random() < 0.8:
        return {"drive_count": rng.randint(0, bays)}
    layout, most = rng.choice([("none", 12.0), ("mirror", 4.0), ("single_parity", 12.0)])
    return {"drive_count": None, "usable_capacity_tb": rng.choice([4.0, most]), "layout": layout}


def _graphics(rng: random.Random) -> dict:
    if rng.random() < 0.6:
        return {}
    size = {"graphics_length_m": rng.choice([0.2, 0.25]), "graphics_slots": 2}
    airflow = rng.choice(["open", "blower"])
    return {"graphics_count": 1, "graphics_watts": rng.uniform(30, 90), "graphics_airflow": airflow, **size}
