"""Small invented enclosures, written by hand as zones and openings: each air path differs from the others."""

from advisor.engine.inputs import OUTSIDE, BayGroup, Enclosure, Filter, Opening, Seat, Service, Zone

ROLES = ("processor", "graphics", "board", "memory", "ssd", "card", "controller")
FORWARD = {"front": 0.7, "left": 0.15, "right": 0.15}
BACKWARD = {"rear": 0.8, "top": 0.2}
AROUND = {"front": 0.3, "rear": 0.2, "left": 0.2, "right": 0.2, "top": 0.1}


def fan_mount(code, side, zone, size_m, count, at, face, **changes):
    ends = (OUTSIDE, zone) if side == "intake" else (zone, OUTSIDE)
    area = count * 0.7 * size_m**2
    known = {"side": side, "fan_size_m": size_m, "fan_count": count, "obstruction_db": 1.0}
    return Opening(code, "fan_mount", *ends, at, size_m, face, area, 2.0, **{**known, **changes})


def supply_path(zone, at=(0.1, 0.45, 0.06)):
    return Opening("supply", "supply", zone, OUTSIDE, at, 0.08, "rear", 0.007, 1.7)


def seams(zone, at=(0.2, 0.22, 0.2)):
    return Opening("seams", "leak", zone, OUTSIDE, at, 0.03, "right", 0.0015, 1.8, two_way=True)


def seats(zone, **changes):
    """All roles in one zone; ``changes`` maps a role to other figures of its seat."""
    return tuple(
        Seat(role, **{"zone": zone, "preheat": 1.0, "cross_area_m2": 0.03, **changes.get(role, {})}) for role in ROLES
    )


def box(code, kind, zones, openings, bay_groups, **changes):
    """An enclosure of 200 x 450 x 450 mm from its zones and openings, with a way out for every sound."""
    sound = {o.code: FORWARD if o.side == "intake" else BACKWARD for o in openings if o.kind == "fan_mount"}
    sound |= {"processor": AROUND, "graphics": AROUND, "drives": FORWARD, "supply": BACKWARD}
    known = {
        "size_m": (0.2, 0.45, 0.45),
        "mass_kg": 8.0,
        "price": 100.0,
        "seats": seats(zones[-1].code),
        "board_forms": ("micro_atx", "atx"),
        "cooler_height_m": 0.16,
        "card_length_m": 0.3,
        "card_slots": 7,
        "supply_forms": ("atx",),
        "supply_length_m": 0.17,
        "supply_opening": "supply",
        "insertion_loss_db": {"front": 2.0, "rear": 1.0, "left": 8.0, "right": 8.0, "top": 6.0, "bottom": 7.0},
        "sound_shares": sound,
        "service": Service(True, True, False, 0.02, 2),
        "orientations": ("upright", "on_left"),
    }
    fixed = {"code": code, "name": code, "kind": kind, "zones": zones, "openings": openings, "bay_groups": bay_groups}
    return Enclosure(**{**fixed, **known, **changes})


def open_tower(code="open_tower", **changes):
    """One zone: two 120 mm intakes behind a mesh, an exhaust that may be empty, drives in still air."""
    mesh = Filter("mesh", 0.05, 4.0, 0.6)
    openings = (
        fan_mount("front", "intake", "main", 0.12, 2, (0.1, 0.0, 0.2), "front", filter=mesh),
        fan_mount("rear", "exhaust", "main", 0.12, 1, (0.1, 0.45, 0.36), "rear", may_be_empty=True),
        supply_path("main"),
        seams("main"),
    )
    bays = (BayGroup("tray", "3.5", 4, "main", "", 0.001, 0.003, 5.0, 1.2),)
    return box(code, "open_tower", (Zone("main", (0.1, 0.22, 0.22), 2.2),), openings, bays, **changes)


def cage_tower(code="cage_tower", **changes):
    """Two zones: a 140 mm intake blows through a hot-swap cage and a way round it; exhaust at the rear."""
    openings = (
        fan_mount(
            "front", "intake", "cage_zone", 0.14, 1, (0.1, 0.0, 0.15), "front", filter=Filter("foam", 0.03, 8.0, 1.4)
        ),
        Opening("cage", "cage", "cage_zone", "main", (0.1, 0.15, 0.15), 0.2, "inner", 0.02, 1.0),
        Opening("round", "passage", "cage_zone", "main", (0.1, 0.15, 0.35), 0.06, "inner", 0.006, 1.5),
        fan_mount("rear", "exhaust", "main", 0.12, 1, (0.1, 0.45, 0.36), "rear", may_be_empty=True),
        supply_path("main"),
        seams("main"),
    )
    zones = (Zone("cage_zone", (0.1, 0.08, 0.2), 0.5), Zone("main", (0.1, 0.3, 0.22), 1.8))
    bays = (BayGroup("cage", "3.5", 4, "main", "cage", 0.0009, 0.003, 4.0, 1.4, rows=2, hot_swap=True, tool_free=True),)
    direct = seats("main", graphics={"preheat": 0.8, "fed_by": "round"})
    return box(code, "cage_tower", zones, openings, bays, **{"seats": direct, "card_length_m": 0.26, **changes})


def vented_cube(code="vented_cube", **changes):
    """One zone sucked out by exhausts alone through a filtered vent that sees the cards."""
    openings = (
        Opening(
            "side_vent",
            "vent",
            OUTSIDE,
            "main",
            (0.0, 0.2, 0.15),
            0.15,
            "left",
            0.015,
            2.4,
            filter=Filter("side", 0.02, 6.0, 1.0),
        ),
        fan_mount("rear", "exhaust", "main", 0.14, 1, (0.1, 0.45, 0.25), "rear"),
        supply_path("main", (0.1, 0.45, 0.3)),
        seams("main"),
    )
    bays = (BayGroup("shelf", "3.5", 3, "main", "", 0.001, 0.003, 5.0, 1.2, tool_free=True),)
    small = {
        "size_m": (0.26, 0.3, 0.45),
        "cooler_height_m": 0.13,
        "supply_forms": ("sfx", "atx"),
        "board_forms": ("micro_atx",),
    }
    zones = (Zone("main", (0.12, 0.22, 0.15), 1.6),)
    return box(code, "vented_cube", zones, openings, bays, **{**small, "card_slots": 4, **changes})


def two_size_tower(code="two_size_tower", **changes):
    """Intakes of two sizes, of which the lower may be empty, 5.25-inch bays for adapters, a vent in the top."""
    openings = (
        fan_mount(
            "front", "intake", "main", 0.14, 1, (0.1, 0.0, 0.3), "front", filter=Filter("front", 0.025, 5.0, 0.8)
        ),
        fan_mount("bottom", "intake", "main", 0.12, 1, (0.1, 0.1, 0.0), "bottom", may_be_empty=True),
        Opening("top", "vent", "main", OUTSIDE, (0.1, 0.3, 0.45), 0.1, "top", 0.008, 2.2, two_way=True),
        fan_mount("rear", "exhaust", "main", 0.12, 1, (0.1, 0.45, 0.36), "rear"),
        supply_path("main"),
        seams("main"),
    )
    bays = (
        BayGroup("tray", "3.5", 2, "main", "", 0.001, 0.003, 5.0, 1.2),
        BayGroup("large", "5.25", 3, "main", "", 0.002, 0.006, 4.0, 1.2),
    )
    return box(code, "two_size_tower", (Zone("main", (0.1, 0.22, 0.24), 2.4),), openings, bays, **changes)


def resting_desk(code="resting_desk", **changes):
    """Two chambers with vents below and above: every mount may be empty, so that air may move by warmth alone."""
    openings = (
        Opening(
            "foot",
            "vent",
            OUTSIDE,
            "lower",
            (0.1, 0.2, 0.0),
            0.0,
            "bottom",
            0.014,
            2.0,
            filter=Filter("foot", 0.02, 3.0, 0.5),
        ),
        Opening("shelf", "passage", "lower", "main", (0.1, 0.22, 0.15), 0.0, "inner", 0.02, 1.5, two_way=True),
        Opening("lid", "vent", "main", OUTSIDE, (0.1, 0.25, 0.45), 0.0, "top", 0.016, 2.0),
        fan_mount("lid_fan", "exhaust", "main", 0.14, 1, (0.1, 0.35, 0.44), "top", may_be_empty=True),
        supply_path("lower"),
        seams("main"),
    )
    zones = (Zone("lower", (0.1, 0.22, 0.07), 0.8), Zone("main", (0.1, 0.22, 0.3), 1.6))
    bays = (BayGroup("pair", "3.5", 2, "lower", "", 0.001, 0.003, 5.0, 1.2, hot_swap=True),)
    return box(code, "resting_desk", zones, openings, bays, **changes)


BOXES = (open_tower, cage_tower, vented_cube, two_size_tower, resting_desk)
