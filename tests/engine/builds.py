"""Whole builds for tests of the engine, without a database: invented enclosures of eight air paths, and parts for them.

Sizes, flows, losses and heats lie within the trade's typical values (common practice, no source).
"""

from __future__ import annotations

import numpy as np

from advisor.engine.case.case import Case, prepare
from advisor.engine.case.fans import FanSet
from advisor.engine.inputs import (
    OUTSIDE,
    AirCooledPart,
    BayGroup,
    Brief,
    Catalogue,
    Cooler,
    Drive,
    Enclosure,
    Fan,
    FanCurve,
    Filter,
    Opening,
    Seat,
    Service,
    Supply,
    Zone,
)
from advisor.engine.judge.arrays import case_arrays, cooler_arrays
from advisor.engine.judge.cells import Cells
from advisor.engine.judge.moments import part_moments
from advisor.engine.pipeline import Build, load_of, own_air, shared_air, solve_air
from advisor.engine.storage.bays import BayPlan, plan_bays
from tests.engine.make_parts import make_cooler, make_drive, make_supply

ROLES = ("processor", "graphics", "board", "memory", "ssd", "card", "controller")
FORWARD = {"front": 0.6, "left": 0.15, "right": 0.15, "top": 0.1}
BACKWARD = {"rear": 0.7, "top": 0.2, "left": 0.1}
AROUND = {"front": 0.2, "rear": 0.3, "left": 0.2, "right": 0.2, "top": 0.1}
# Free flow [m3/s], shut-off pressure [Pa] and sound power [dB] of a fan at its full speed [rpm], by size [m].
TYPICAL_FANS = {
    0.12: (1300.0, 0.026, 14.0, 31.0),
    0.14: (1200.0, 0.036, 13.0, 31.0),
    0.18: (1100.0, 0.056, 32.0, 41.0),
}


def fan(size_m: float, code: str = "", **changes) -> Fan:
    """A fan of typical figures on temperature control, from a third of its full speed."""
    full, flow, pressure, sound = TYPICAL_FANS[size_m]
    shape = ((0.0, 1.0), (0.35, 0.78), (0.6, 0.55), (0.8, 0.3), (1.0, 0.0))
    name = code or f"fan-{1000 * size_m:.0f}"
    known = {
        "code": name,
        "name": name,
        "size_m": size_m,
        "thickness_m": 0.025,
        "curve": FanCurve(tuple((x * flow, y * pressure) for x, y in shape), full),
        "min_rpm": full / 3,
        "max_rpm": full,
        "control": "temperature",
        "sound": ((0.5 * full, sound - 14.0), (full, sound)),
        "power_w": 1.5,
        "price": 15.0,
    }
    return Fan(**{**known, **changes})


def mount(
    code: str, side: str, ends: tuple[str, str], size_m: float, count: int, at: tuple, face: str, **changes
) -> Opening:
    """A fan mount; its free area is seven tenths of the fans' squares."""
    known = {"side": side, "fan_size_m": size_m, "fan_count": count, "obstruction_db": 1.0, "loss_coefficient": 1.8}
    known["area_m2"] = 0.7 * count * size_m**2
    return Opening(code, "fan_mount", *ends, at, size_m, face, **{**known, **changes})


def opening(code: str, kind: str, ends: tuple[str, str], at: tuple, face: str, area_cm2: float, **changes) -> Opening:
    """Any other opening, flat unless ``height_m`` says otherwise."""
    known = {"height_m": 0.02, "loss_coefficient": 1.8, "two_way": kind == "leak"}
    known.update(changes)
    height, loss = known.pop("height_m"), known.pop("loss_coefficient")
    return Opening(code, kind, *ends, at, height, face, area_cm2 / 1e4, loss, **known)


def supply_at(ends: tuple[str, str], at: tuple) -> Opening:
    """The way through the supply."""
    return opening("supply", "supply", ends, at, "rear", 72.0, height_m=0.08, loss_coefficient=1.7)


def seats(zone: str, **changes: dict) -> tuple[Seat, ...]:
    """Every role's seat in one zone; ``changes`` maps roles to other figures."""
    return tuple(
        Seat(role, **{"zone": zone, "preheat": 1.0, "cross_area_m2": 0.03, **changes.get(role, {})}) for role in ROLES
    )


def enclosure(
    code: str, zones: tuple, openings: tuple, bay_groups: tuple, where: tuple[Seat, ...], **changes
) -> Enclosure:
    """An enclosure from what shapes its air, with a way out for every sound."""
    sound = {o.code: FORWARD if o.side == "intake" else BACKWARD for o in openings if o.kind == "fan_mount"}
    known = {
        "size_m": (0.22, 0.5, 0.48),
        "mass_kg": 10.0,
        "price": 120.0,
        "board_forms": ("mini_itx", "micro_atx", "atx"),
        "cooler_height_m": 0.17,
        "card_length_m": 0.34,
        "card_slots": 7,
        "supply_forms": ("atx",),
        "supply_length_m": 0.2,
        "supply_opening": "supply",
        "insertion_loss_db": {"front": 3.0, "rear": 1.5, "left": 8.0, "right": 8.0, "top": 6.0, "bottom": 6.0},
        "sound_shares": sound | {"processor": AROUND, "graphics": AROUND, "drives": FORWARD, "supply": BACKWARD},
        "service": Service(True, True, False, 0.02, 2),
        "orientations": ("upright", "on_front", "on_left"),
    }
    return Enclosure(
        code, code, code, **{**known, **changes}, zones=zones, openings=openings, bay_groups=bay_groups, seats=where
    )


def cage_group(code: str, zone: str, through: str, count: int, **changes) -> BayGroup:
    """Bays for 3.5-inch drives; ``through`` names the cage opening, or is empty."""
    return BayGroup(code, "3.5", count, zone, through, 0.0009, 0.003, 4.5, 1.4, **changes)


def mesh_tower() -> Enclosure:
    """Two intakes behind a mesh, the lower before a cage; a way round it feeds the graphics board; a rear exhaust."""
    zones = (Zone("cage", (0.1, 0.08, 0.15), 0.6), Zone("main", (0.11, 0.3, 0.26), 2.0))
    openings = (
        mount(
            "front",
            "intake",
            (OUTSIDE, "cage"),
            0.14,
            1,
            (0.1, 0.0, 0.12),
            "front",
            filter=Filter("foam", 0.03, 6.0, 1.0),
        ),
        mount(
            "upper",
            "intake",
            (OUTSIDE, "main"),
            0.14,
            1,
            (0.1, 0.0, 0.33),
            "front",
            filter=Filter("foam", 0.03, 6.0, 1.0),
        ),
        opening("drives", "cage", ("cage", "main"), (0.1, 0.15, 0.15), "inner", 200.0, height_m=0.2),
        opening("round", "passage", ("cage", "main"), (0.1, 0.15, 0.28), "inner", 40.0, height_m=0.06),
        mount("rear", "exhaust", ("main", OUTSIDE), 0.12, 1, (0.1, 0.5, 0.38), "rear"),
        opening("slots", "vent", ("main", OUTSIDE), (0.05, 0.5, 0.15), "rear", 30.0, height_m=0.14, two_way=True),
        supply_at(("main", OUTSIDE), (0.1, 0.5, 0.06)),
        opening("seams", "leak", ("main", OUTSIDE), (0.2, 0.25, 0.24), "right", 15.0),
    )
    fed = seats("main", graphics={"preheat": 0.8, "fed_by": "round"}, processor={"preheat": 1.1})
    return enclosure("mesh_tower", zones, openings, (cage_group("bays", "main", "drives", 6),), fed)


def drive_cube() -> Enclosure:
    """Everything is sucked through a wall of drives, two rows deep, by exhausts; the board hangs behind."""
    zones = (Zone("door", (0.15, 0.03, 0.18), 0.4), Zone("board", (0.15, 0.3, 0.2), 1.6))
    openings = (
        opening(
            "mesh",
            "vent",
            (OUTSIDE, "door"),
            (0.15, 0.0, 0.18),
            "front",
            260.0,
            height_m=0.3,
            filter=Filter("mesh", 0.06, 3.0, 0.8),
        ),
        opening("wall", "cage", ("door", "board"), (0.15, 0.1, 0.18), "inner", 300.0, height_m=0.25),
        mount("rear", "exhaust", ("board", OUTSIDE), 0.14, 2, (0.15, 0.38, 0.2), "rear"),
        supply_at(("board", OUTSIDE), (0.15, 0.38, 0.05)),
        opening("seams", "leak", ("board", OUTSIDE), (0.3, 0.2, 0.2), "right", 20.0),
    )
    groups = (cage_group("wall", "board", "wall", 8, rows=2, hot_swap=True),)
    return enclosure("drive_cube", zones, openings, groups, seats("board", graphics={"preheat": 1.8}))


def chimney() -> Enclosure:
    """Air rises from a base through the board's room to a hood; the base's fan may be missing or rest."""
    zones = (
        Zone("base", (0.1, 0.12, 0.05), 0.4),
        Zone("main", (0.1, 0.12, 0.25), 1.3),
        Zone("hood", (0.1, 0.12, 0.46), 0.5),
    )
    openings = (
        mount(
            "floor",
            "intake",
            (OUTSIDE, "base"),
            0.18,
            1,
            (0.1, 0.12, 0.0),
            "bottom",
            may_be_empty=True,
            filter=Filter("coarse", 0.03, 1.3, 1.8),
        ),
        opening("deck", "passage", ("base", "main"), (0.1, 0.12, 0.1), "inner", 190.0),
        opening("shaft", "cage", ("base", "main"), (0.15, 0.05, 0.15), "inner", 90.0, height_m=0.13),
        opening("neck", "passage", ("main", "hood"), (0.1, 0.12, 0.42), "inner", 240.0),
        opening("cap", "vent", ("hood", OUTSIDE), (0.1, 0.12, 0.5), "top", 230.0, height_m=0.18, two_way=True),
        supply_at(("base", OUTSIDE), (0.1, 0.24, 0.05)),
        opening("seams", "leak", ("main", OUTSIDE), (0.2, 0.12, 0.25), "right", 10.0),
    )
    return enclosure(
        "chimney",
        zones,
        openings,
        (cage_group("shaft", "main", "shaft", 2),),
        seats("main", processor={"preheat": 0.85, "fed_by": "deck"}),
    )


def two_chamber() -> Enclosure:
    """The board's chamber has the fans; supply and drives share a chamber that only grommets and its own slots air."""
    zones = (Zone("board", (0.16, 0.25, 0.22), 1.7), Zone("service", (0.04, 0.3, 0.22), 0.9))
    openings = (
        mount(
            "front",
            "intake",
            (OUTSIDE, "board"),
            0.12,
            2,
            (0.16, 0.0, 0.25),
            "front",
            filter=Filter("fine", 0.03, 10.0, 1.0),
        ),
        opening("rear_mesh", "vent", ("board", OUTSIDE), (0.16, 0.5, 0.32), "rear", 90.0, height_m=0.12, two_way=True),
        opening(
            "grommets", "passage", ("board", "service"), (0.08, 0.3, 0.2), "inner", 18.0, height_m=0.1, two_way=True
        ),
        opening("side", "vent", (OUTSIDE, "service"), (0.0, 0.2, 0.12), "left", 45.0, height_m=0.1),
        supply_at(("service", OUTSIDE), (0.04, 0.5, 0.3)),
        opening("seams", "leak", ("service", OUTSIDE), (0.0, 0.4, 0.3), "left", 10.0),
        opening("gaps", "leak", ("board", OUTSIDE), (0.22, 0.2, 0.25), "right", 10.0),
    )
    return enclosure(
        "two_chamber",
        zones,
        openings,
        (cage_group("still", "service", "", 3),),
        seats("board", graphics={"preheat": 1.4}),
    )


def side_intake() -> Enclosure:
    """A tall side vent feeds the graphics board through a filter while a roof exhaust pulls; its halves may differ."""
    openings = (
        opening(
            "side",
            "vent",
            (OUTSIDE, "main"),
            (0.0, 0.25, 0.18),
            "left",
            150.0,
            height_m=0.25,
            filter=Filter("fine", 0.03, 9.0, 1.0),
        ),
        mount("roof", "exhaust", ("main", OUTSIDE), 0.14, 2, (0.1, 0.25, 0.48), "top"),
        supply_at(("main", OUTSIDE), (0.1, 0.5, 0.08)),
        opening("seams", "leak", ("main", OUTSIDE), (0.2, 0.25, 0.24), "right", 20.0),
    )
    fed = seats("main", graphics={"preheat": 0.6, "fed_by": "side"}, card={"preheat": 1.3})
    return enclosure(
        "side_intake", (Zone("main", (0.1, 0.25, 0.24), 2.2),), openings, (cage_group("shelf", "main", "", 2),), fed
    )


def fan_wall() -> Enclosure:
    """A rack box: drives at the front, a wall of fans in the middle that blows over the board and out by grilles."""
    zones = (Zone("pen", (0.22, 0.1, 0.07), 0.5), Zone("board", (0.22, 0.42, 0.07), 1.4))
    openings = (
        opening("front_cage", "cage", (OUTSIDE, "pen"), (0.22, 0.0, 0.07), "front", 260.0, height_m=0.12),
        mount("wall", "intake", ("pen", "board"), 0.12, 3, (0.22, 0.24, 0.07), "inner"),
        opening("grille", "vent", ("board", OUTSIDE), (0.3, 0.6, 0.07), "rear", 110.0, height_m=0.1),
        supply_at(("board", OUTSIDE), (0.08, 0.6, 0.06)),
        opening("lid", "leak", ("board", OUTSIDE), (0.22, 0.4, 0.14), "top", 12.0),
        opening("brim", "leak", ("pen", OUTSIDE), (0.22, 0.1, 0.14), "top", 8.0),
    )
    groups = (cage_group("front", "pen", "front_cage", 8, hot_swap=True),)
    return enclosure(
        "fan_wall", zones, openings, groups, seats("board", graphics={"preheat": 1.5}), size_m=(0.44, 0.6, 0.14)
    )


def resting_desk() -> Enclosure:
    """Vents below and above, and one exhaust that may rest: air can move by its own warmth alone."""
    zones = (Zone("lower", (0.1, 0.22, 0.07), 0.8), Zone("main", (0.1, 0.22, 0.3), 1.6))
    openings = (
        opening(
            "foot", "vent", (OUTSIDE, "lower"), (0.1, 0.2, 0.0), "bottom", 140.0, filter=Filter("foot", 0.02, 3.0, 0.5)
        ),
        opening("shelf", "passage", ("lower", "main"), (0.1, 0.22, 0.15), "inner", 200.0),
        opening("lid", "vent", ("main", OUTSIDE), (0.1, 0.25, 0.45), "top", 160.0),
        mount("lid_fan", "exhaust", ("main", OUTSIDE), 0.14, 1, (0.1, 0.35, 0.45), "top", may_be_empty=True),
        supply_at(("lower", OUTSIDE), (0.1, 0.45, 0.06)),
        opening("seams", "leak", ("main", OUTSIDE), (0.2, 0.22, 0.3), "right", 10.0),
    )
    return enclosure("resting_desk", zones, openings, (cage_group("pair", "lower", "", 2),), seats("main"))


def switched_tower() -> Enclosure:
    """One large zone with front and floor intakes of two sizes and a vent in the top, and a seat that recirculates."""
    openings = (
        mount(
            "front",
            "intake",
            (OUTSIDE, "main"),
            0.14,
            1,
            (0.1, 0.0, 0.3),
            "front",
            filter=Filter("front", 0.025, 5.0, 0.8),
        ),
        mount("floor", "intake", (OUTSIDE, "main"), 0.12, 1, (0.1, 0.1, 0.0), "bottom", may_be_empty=True),
        opening("top", "vent", ("main", OUTSIDE), (0.1, 0.3, 0.48), "top", 120.0, two_way=True),
        mount("rear", "exhaust", ("main", OUTSIDE), 0.12, 1, (0.1, 0.5, 0.38), "rear"),
        supply_at(("main", OUTSIDE), (0.1, 0.5, 0.06)),
        opening("seams", "leak", ("main", OUTSIDE), (0.2, 0.25, 0.24), "right", 15.0),
    )
    groups = (cage_group("tray", "main", "", 3),)
    return enclosure(
        "switched_tower",
        (Zone("main", (0.1, 0.25, 0.24), 2.4),),
        openings,
        groups,
        seats("main", graphics={"preheat": 2.2}),
    )


ENCLOSURES = (mesh_tower, drive_cube, chimney, two_chamber, side_intake, fan_wall, resting_desk, switched_tower)
CARD = AirCooledPart("card", "Card", 12.0, 1.0, 35.0, 90.0, slots=1)
SSD = AirCooledPart("ssd", "Ssd", 6.0, 0.6, 25.0, 75.0)


def brief_of(drives: int, **changes) -> Brief:
    """A workstation with a graphics board, a card and some drives."""
    known = {
        "processor_watts": 105.0,
        "board_form": "atx",
        "noise_target_dba": 34.0,
        "drive_count": drives,
        "graphics_watts": 150.0,
        "graphics_count": 1,
        "graphics_length_m": 0.27,
        "graphics_slots": 2,
        "card_count": 1,
        "required_parts": ("card", "ssd"),
    }
    return Brief(**{**known, **changes})


def case_of(box: Enclosure, brief: Brief) -> Case:
    """Prepare a case with as many drives as the brief has."""
    count = brief.drive_count or 0
    bays = plan_bays(box, "3.5", count)
    assert isinstance(bays, BayPlan), f"{box.code} does not hold {count} drives"
    return prepare(brief, box, Catalogue(ssds=(SSD,), cards=(CARD,)), bays, (), count)


def fans_of(box: Enclosure, intake: dict[float, Fan] | None = None, exhaust: dict[float, Fan] | None = None) -> FanSet:
    """Fans on all mounts that ``intake`` and ``exhaust`` have a size for; typical ones where None is given."""
    sides = []
    for side, models in (("intake", intake), ("exhaust", exhaust)):
        places = [o for o in box.openings if o.kind == "fan_mount" and o.side == side]
        sizes = {o.fan_size_m: fan(o.fan_size_m) for o in places} if models is None else models
        sides.append(tuple((o, sizes[o.fan_size_m]) for o in places if o.fan_size_m in sizes))
    return FanSet(*sides)


def build_of(
    box: Enclosure,
    brief: Brief,
    fans: FanSet | None = None,
    cooler: Cooler | None = None,
    supply: Supply | None = None,
    drive: Drive | None = None,
) -> Build:
    """A build of typical parts where none are given."""
    case = case_of(box, brief)
    known = drive or (make_drive() if case.drive_count else None)
    return Build(case, fans or fans_of(box), cooler or make_cooler(), supply or make_supply(), known)


def rows_at(build: Build, intake: int, exhaust: int) -> np.ndarray:
    """Rows (5,) of the grid at one step of intake and exhaust in all scenarios; negative steps count from the last."""
    i, e = (len(steps) for steps in build.fans.steps)
    return np.arange(5) * i * e + (intake % i) * e + exhaust % e


def temperatures(build: Build, rows: np.ndarray, step: int = 4) -> tuple[np.ndarray, np.ndarray, Cells]:
    """Temperature [degC] and standard uncertainty [K] of every part (5, components), and the air at the rows."""
    case = build.case
    load, shared = load_of(case, build.supply, build.drive), shared_air(case, build.supply, build.drive)
    cells = own_air(case, build.fans, shared, solve_air(case, build.fans, shared), load)
    coolers = cooler_arrays(case, (build.cooler,))
    rise, u = part_moments(
        case, case_arrays(case), build.cooler, coolers.speed_log[0][np.full(5, step)], build.drive, cells.figures[rows],
        (load.drives_w, load.loss_w),
    )  # fmt: skip
    return case.room.temperature_c[:, None] + rise, u, cells
