"""Compile every kernel once: ``python -m advisor.engine.warm_up`` scores a tiny invented case from end to end.

Numba keeps what it compiles in ``NUMBA_CACHE_DIR``; processes that start afterwards only load it.
"""

from __future__ import annotations

import time

import numpy as np

from advisor.engine.desirability import weights_of
from advisor.engine.inputs import (
    FACES,
    INNER,
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
from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.sampling import difference, sample
from advisor.engine.search.outcome import EnclosureOutcome, Scored
from advisor.engine.search.score import score_enclosure

ROLES = ("processor", "graphics", "board", "memory", "ssd", "card", "controller")
EVEN = {"front": 0.5, "rear": 0.5}
CURVE = FanCurve(((0.0, 18.0), (0.01, 12.0), (0.015, 13.0), (0.03, 0.0)), 1500.0)


def main() -> None:
    """Score a brief that is met, describe and draw its best build, then one that is not met; print the seconds."""
    start = time.perf_counter()
    met, missed = (warmed(brief) for brief in briefs())
    if not met.accepted or missed.accepted:
        raise SystemExit(f"Of the tiny case's {met.considered} builds {met.accepted} are accepted: its limits are off.")
    count, took = met.considered + missed.considered, time.perf_counter() - start
    print(f"Scored {count} builds of a tiny case in {took:.1f} s: the kernels are compiled.")


def warmed(brief: Brief) -> EnclosureOutcome:
    """Score the tiny case with and without pruning and describe the best build, if there is one."""
    parts = tiny_catalogue()
    pruned, _ = (score_enclosure(brief, parts, parts.enclosures[0], prune=prune) for prune in (True, False))
    for best in pruned.best[:1]:
        _described(brief, parts, best)
    return pruned


def _described(brief: Brief, parts: Catalogue, best: Scored) -> None:
    one = best.candidate
    build = build_of(brief, parts, one.enclosure, one.fans, one.cooler, one.supply, one.drive)
    describe(build, best.rows, best.steps, parts, best.criteria)
    drawn = sample(build, np.array(best.rows), np.array(best.steps), count=2)
    difference(drawn, drawn, {}, {}, weights_of(brief))


def briefs() -> tuple[Brief, ...]:
    """A brief that the tiny case meets, and one with a blower and a target that nothing meets."""
    needs = {"processor_watts": 60.0, "board_form": "atx", "drive_count": 2, "graphics_count": 1, "card_count": 1}
    board = {"graphics_watts": 80.0, "graphics_length_m": 0.2, "graphics_slots": 2}
    warm = {"limit_drive_c": 85.0, "limit_graphics_c": 110.0, "limit_processor_c": 110.0}
    return (
        Brief(**needs, **board, noise_target_dba=70.0, **warm),  # type: ignore[arg-type]
        Brief(**needs, **board, noise_target_dba=5.0, graphics_airflow="blower"),  # type: ignore[arg-type]
    )


def tiny_catalogue() -> Catalogue:
    """One part of each kind, with a drive model and a cooler more, all invented."""
    controller = AirCooledPart("warm_ports", "Warm Ports", 8.0, 1.0, 30.0, 95.0, price=50.0, ports=8, slots=1)
    return Catalogue(
        enclosures=(_enclosure(),),
        fans=(_fan("warm_fan", "temperature", ()), _fan("warm_switch", "switch", (700.0, 1400.0))),
        coolers=(_cooler("warm_cooler", 1800.0), _cooler("warm_fins", 0.0)),
        supplies=(_supply(),),
        drives=(_drive("warm_drive", 5.0), _drive("warm_disk", 6.0)),
        controllers=(controller,),
    )


def _enclosure() -> Enclosure:
    """Two zones: an intake blows through a cage and a tall passage beside it, an exhaust may be empty."""
    openings = (
        Opening(
            "front", "fan_mount", OUTSIDE, "fore", (0.1, 0.0, 0.2), 0.12, "front", 0.01, 2.0,
            filter=Filter("warm_mesh", 0.02, 5.0, 1.0), side="intake", fan_size_m=0.12, fan_count=1,
        ),
        Opening("cage", "cage", "fore", "main", (0.1, 0.15, 0.1), 0.1, INNER, 0.01, 1.0),
        Opening("beside", "passage", "fore", "main", (0.1, 0.15, 0.3), 0.2, INNER, 0.01, 1.5, two_way=True),
        Opening(
            "rear", "fan_mount", "main", OUTSIDE, (0.1, 0.4, 0.3), 0.12, "rear", 0.01, 2.0,
            side="exhaust", fan_size_m=0.12, fan_count=1, may_be_empty=True,
        ),
        Opening("supply", "supply", "main", OUTSIDE, (0.1, 0.4, 0.05), 0.08, "rear", 0.007, 1.7),
        Opening("seams", "leak", "main", OUTSIDE, (0.2, 0.2, 0.2), 0.03, "right", 0.0015, 1.8, two_way=True),
    )  # fmt: skip
    fed = {"graphics": ("beside", 0.8), "card": ("", 1.2)}
    return Enclosure(
        "warm_box", "Warm Box", "tiny", (0.2, 0.4, 0.4), 8.0, 80.0,
        (Zone("fore", (0.1, 0.07, 0.2), 0.5), Zone("main", (0.1, 0.3, 0.2), 1.5)),
        openings,
        (
            BayGroup("cage", "3.5", 1, "main", "cage", 0.001, 0.003, 4.0, 1.2),
            BayGroup("tray", "3.5", 1, "main", "", 0.001, 0.003, 4.0, 1.2),
        ),
        tuple(
            Seat(role, "main", fed.get(role, ("", 1.0))[1], 0.03, fed_by=fed.get(role, ("", 1.0))[0]) for role in ROLES
        ),
        ("atx",), 0.16, 0.3, 7, ("atx",), 0.18, "supply",
        dict.fromkeys(FACES, 3.0),
        dict.fromkeys(("front", "rear", "processor", "graphics", "drives", "supply"), EVEN),
        Service(True, True, False, 0.02, 2),
    )  # fmt: skip


def _fan(code: str, control: str, steps: tuple[float, ...]) -> Fan:
    return Fan(
        code, code, 0.12, 0.025, CURVE, 600.0, 1500.0, control, ((600.0, 16.0), (1500.0, 34.0)), 2.0, 12.0,
        steps_rpm=steps, may_stop=not steps,
    )  # fmt: skip


def _cooler(code: str, max_rpm: float) -> Cooler:
    sound = ((500.0, 14.0), (1800.0, 38.0)) if max_rpm else ()
    return Cooler(
        code, code, 0.15, (), 0.1, 0.1, 0.6, 0.1, 500.0 if max_rpm else 0.0, max_rpm, "temperature", sound,
        2.0 if max_rpm else 0.0, 30.0,
    )  # fmt: skip


def _supply() -> Supply:
    return Supply(
        "warm_supply", "Warm Supply", "atx", 0.14, 450.0, 430.0, ((0.1, 0.84), (0.5, 0.9), (1.0, 0.87)),
        ((0.1, 18.0), (1.0, 36.0)), "warm_path", CURVE, ((0.4, 0.0), (1.0, 1.0)), 0.006, 3.0, 60.0,
    )  # fmt: skip


def _drive(code: str, idle_w: float) -> Drive:
    return Drive(code, code, "3.5", 8.0, idle_w, idle_w + 3.0, 2.0, 10.0, 24.0, 27.0, 85.0, 0.01, 1e-15, 8, 150.0, 0.04)


if __name__ == "__main__":
    main()
