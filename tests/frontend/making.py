"""Hand-made enclosures and builds for tests of pages: small, with round figures, in the shapes of the real records."""

from functools import cache
from pathlib import Path

import yaml

from advisor.engine.inputs import SCENARIOS
from frontend.pictures.housing import Bays, Housing, OpeningPlace, ZonePlace, extent, turned

SHEETS = Path(__file__).parents[2] / "fixtures" / "catalog" / "enclosures"
DENSITY = 1.2


@cache
def sheets() -> tuple[dict, ...]:
    """The blocks of all enclosures of the demo catalogue."""
    return tuple(block for file in sorted(SHEETS.glob("*.yaml")) for block in yaml.safe_load(file.read_text()))


def housing(block: dict, orientation: str = "upright") -> Housing:
    """An enclosure as its file says it."""
    width, height, depth = (one / 1000 for one in block["size_mm"])
    size = (width, depth, height)
    return turned(
        Housing(
            block["code"],
            block["name"],
            size,
            tuple(ZonePlace(one["code"], metres(one["position_mm"])) for one in block["zones"]),
            tuple(opening(one, size) for one in block["openings"]),
            tuple(Bays(one["code"], one["count"], one["zone"], one["opening"]) for one in block["bay_groups"]),
            tuple((one["role"], one["zone"]) for one in block["seats"]),
        ),
        orientation,
    )


def metres(position: list[float]) -> tuple[float, float, float]:
    x, y, z = (one / 1000 for one in position)
    return x, y, z


def opening(one: dict, size: tuple[float, float, float]) -> OpeningPlace:
    fan = (one.get("fan_size_mm", 0) / 1000, one.get("fan_count", 0))
    return OpeningPlace(
        one["code"],
        one["kind"],
        one["from"],
        one["to"],
        metres(one["position_mm"]),
        extent(one["face"], one["height_mm"] / 1000, one["area_cm2"] / 1e4, fan, size),
        one["face"],
        one["face"],
        "filter" in one,
        one.get("two_way", False),
        fan[1],
        fan[0],
    )


def box(name: str = "Box") -> Housing:
    """A box of two zones, one behind the other: a fan in front, drives between them, a vent behind, a supply on top."""
    size = (0.2, 0.4, 0.4)
    fan, plain = (0.12, 1), (0.0, 0)
    return Housing(
        "box",
        name,
        size,
        (ZonePlace("nose", (0.1, 0.08, 0.2)), ZonePlace("main", (0.1, 0.28, 0.2))),
        (
            OpeningPlace(
                "front_fans",
                "fan_mount",
                "outside",
                "nose",
                (0.1, 0.0, 0.2),
                extent("front", 0.12, 0.01, fan, size),
                "front",
                "front",
                True,
                False,
                1,
                0.12,
            ),
            OpeningPlace(
                "cage",
                "cage",
                "nose",
                "main",
                (0.1, 0.15, 0.2),
                extent("inner", 0.2, 0.02, plain, size),
                "inner",
                "inner",
            ),
            OpeningPlace(
                "vent",
                "vent",
                "main",
                "outside",
                (0.1, 0.4, 0.1),
                extent("rear", 0.1, 0.01, plain, size),
                "rear",
                "rear",
            ),
            OpeningPlace(
                "supply_path",
                "supply",
                "main",
                "outside",
                (0.1, 0.3, 0.4),
                extent("top", 0.1, 0.01, plain, size),
                "top",
                "top",
            ),
            OpeningPlace(
                "seam",
                "leak",
                "main",
                "outside",
                (0.2, 0.3, 0.3),
                extent("right", 0.1, 0.0, plain, size),
                "right",
                "right",
            ),
        ),
        (Bays("cage_35", 3, "main", "cage"),),
        (("processor", "main"),),
    )


def air(
    openings: list[tuple[str, str, str, str, float, bool]], zones: dict[str, float], intake_c: float = 22.0
) -> dict:
    """Air as a record says it; openings are code, half, from, to, flow in l/s, and whether it goes the wrong way."""
    return {
        "intake_c": intake_c,
        "zones": [
            {"code": code, "pressure_pa": -2.5, "temperature_c": warm, "fresh_share": 0.8}
            for code, warm in zones.items()
        ],
        "openings": [
            {
                "code": code,
                "half": half,
                "from": source,
                "to": target,
                "mass_flow_kgs": DENSITY * flow / 1000,
                "standard_uncertainty_kgs": 0.1 * DENSITY * abs(flow) / 1000,
                "flow_m3s": flow / 1000,
                "reversed": wrong,
            }
            for code, half, source, target, flow, wrong in openings
        ],
    }


def figure(value: float, u: float = 2.0) -> dict[str, float]:
    return {"value": value, "standard_uncertainty": u}


def prediction(noise_dba: float = 30.0) -> dict:
    """A processor, drives and what is heard: three parts of the energy from fans in front, one from drives behind."""
    return {
        "noise_dba": figure(noise_dba, 1.4),
        "noise_with_background_dba": 32.0,
        "noise_target_dba": 33.0,
        "noise_by_source": {"front_fans": 0.75, "drives": 0.25},
        "noise_by_face": {"front": 0.75, "rear": 0.25},
        "noise_sources": [
            {
                "source": "front_fans",
                "part": "fan-1",
                "face": "front",
                "level_dba": noise_dba - 1.249,
                "heard_share": 0.75,
            },
            {
                "source": "drives",
                "part": "drive-1",
                "face": "rear",
                "level_dba": noise_dba - 6.021,
                "heard_share": 0.25,
            },
        ],
        "temperatures": [
            {
                "role": "processor",
                "place": "",
                "temperature_c": figure(60.0, 3.0),
                "limit_c": 85.0,
                "headroom_k": 21.2,
            },
            {
                "role": "drive",
                "place": "cage_35",
                "temperature_c": figure(47.0, 1.5),
                "limit_c": 48.0,
                "headroom_k": -0.9,
            },
        ],
    }


def build(name: str = "Box", *, wrong: bool = True) -> dict:
    """A build of ``box``; its supply draws air in, the wrong way."""
    supply = -4.0 if wrong else 4.0
    flows = [
        ("front_fans", "", "outside", "nose", 20.0, False),
        ("cage", "", "nose", "main", 20.0, False),
        ("vent", "lower", "main", "outside", 12.0, False),
        ("vent", "upper", "main", "outside", 12.0, False),
        ("supply_path", "", "main", "outside", supply, wrong),
        ("seam", "", "main", "outside", 0.1, False),
    ]
    speeds = {
        "intake": {"speed_rpm": 900.0, "fans": {"fan-1": 900.0}, "manual": False},
        "exhaust": {"speed_rpm": None, "fans": {}, "manual": False},
        "cooler": {"speed_rpm": 600.0, "fans": {"cooler-1": 600.0}, "manual": False},
    }
    return {
        "id": "box~fan-1",
        "rank": 1,
        "tied_with": [],
        "enclosure": "box",
        "price": 900.0,
        "headroom_k": -0.9,
        "parts": [
            {"role": "enclosure", "part": "box", "name": name, "quantity": 1, "place": "", "price": 99.0},
            {"role": "intake_fan", "part": "fan-1", "name": name, "quantity": 1, "place": "front_fans", "price": 9.0},
            {"role": "drive", "part": "drive-1", "name": name, "quantity": 2, "place": "cage_35", "price": 200.0},
        ],
        "settings": dict.fromkeys(SCENARIOS, speeds),
        "predictions": {code: prediction() for code in SCENARIOS},
        "airflow": {code: air(flows, {"nose": 22.5, "main": 26.0}) for code in SCENARIOS},
        "bays": [
            {"bay": "cage_35 1", "group": "cage_35", "adapter": "", "drive": "drive-1"},
            {"bay": "cage_35 2", "group": "cage_35", "adapter": "", "drive": "drive-1"},
        ],
    }


def any_build(of: Housing, *, turn_every: int = 0) -> dict:
    """A build of any enclosure: flows that differ from opening to opening, tall vents as two halves.

    Every ``turn_every``-th opening blows the wrong way.
    """
    flows = []
    for n, one in enumerate(of.openings, 1):
        wrong = bool(turn_every) and n % turn_every == 0 and one.kind != "leak"
        flow = (0.3 if one.kind == "leak" else 1.5 * n) * (-1 if wrong else 1)
        if one.kind == "vent" and one.extent[2] > 0.05:
            flows += [(one.code, half, one.from_zone, one.to_zone, flow / 2, wrong) for half in ("lower", "upper")]
        else:
            flows.append((one.code, "", one.from_zone, one.to_zone, flow, wrong))
    made = build(of.name)
    warm = {zone.code: 23.0 + 2 * n for n, zone in enumerate(of.zones)}
    temperatures = [
        {"role": role, "place": "", "temperature_c": figure(60.0), "limit_c": 85.0, "headroom_k": 20.0}
        for role in ("processor", "graphics", "ssd", "controller")
        if of.zone_of(role)
    ]
    temperatures += [
        {"role": "drive", "place": one.code, "temperature_c": figure(41.0), "limit_c": 48.0, "headroom_k": 4.0}
        for one in of.bays
    ]
    fans = [
        {"role": "intake_fan", "part": "fan-1", "name": "Fan", "quantity": one.fans, "place": one.code, "price": 9.0}
        for one in of.openings
        if one.fans
    ]
    return made | {
        "parts": [made["parts"][0], *fans],
        "bays": [{"bay": f"{one.code} 1", "group": one.code, "adapter": "", "drive": "d"} for one in of.bays],
        "airflow": {code: air(flows, warm) for code in SCENARIOS},
        "predictions": {code: prediction() | {"temperatures": temperatures} for code in SCENARIOS},
    }


def study(noises: list[float], headrooms: list[float], ranks: list[int]) -> dict:
    """A study whose shortlist has such figures."""
    entries = []
    for n, (noise, headroom, rank) in enumerate(zip(noises, headrooms, ranks, strict=True)):
        entry = build(f"Box {n + 1}") | {"headroom_k": headroom, "rank": rank, "price": 900.0 + 10 * n}
        entry["predictions"] = {code: prediction(noise) for code in SCENARIOS}
        entries.append(entry)
    brief = {"noise_scenarios": ["idle", "working"], "noise_target_dba": 33.0, "currency": "EUR"}
    return {"brief": brief, "shortlist": entries}
