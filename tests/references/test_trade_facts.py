"""Facts of the trade about a large tower with a closed front (common practice, no source); nothing here is fitted.

The kind: closed front, three large intakes in the bottom, exhaust at the rear or in the top, 300 to 600 cm2 of free
intake, a coarse to medium filter, 275 to 470 W. Every range below is a typical value of the trade (from memory, common
practice):

- 180 mm fans: 0.061 m3/s and 38 Pa at 1200 rpm (0.056 and 32 at 1100, by the fan laws), a third either way, as real
  fans scatter; speed exponent of sound 50 +- 5
- filter at 1 m/s: 2 to 4 Pa coarse, up to 8 Pa medium (fine ones start there), 30 to 80 % of it linear, on 700 cm2
- losses in velocity heads: 1.5 to 2.5 of grille and fan mount; deck under the board 250 to 450 cm2
- exhaust: a grille of 150 to 350 cm2, with or without a 120 mm fan at 900 rpm; 10 to 30 cm2 of leaks
- walls 1.5 to 4 W/K; preheat factors: graphics board 1.5 to 3, processor 1 within a factor 1.35 (one sigma)
- tower cooler 0.14 to 0.28 K/W at full speed of its own fan, half of it (40 to 60 %) in the air film; graphics board
  0.18 to 0.25 K/W; both fall with the passing flow to the power 0.07 +- 0.05
- the processor takes 28 to 42 % of the heat, board, memory and supply some 35 to 60 W and 9 % of it, graphics the rest
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from math import log10

import numpy as np
import pytest

from advisor.engine.case.case import prepare
from advisor.engine.case.fans import FanSet
from advisor.engine.constants import GRAVITY_M_S2, ZERO_CELSIUS_K
from advisor.engine.inputs import OUTSIDE, Brief, Catalogue, Enclosure, Fan, FanCurve, Filter, Graphics, Zone
from advisor.engine.judge.arrays import case_arrays
from advisor.engine.judge.cells import Cells, solve_cells
from advisor.engine.judge.moments import part_moments
from advisor.engine.noise.levels import energy, level, subtract_background
from advisor.engine.pipeline import Build, load_of, shared_air
from advisor.engine.storage.bays import BayPlan
from tests.engine.builds import enclosure, make_cooler, make_supply, mount, opening, seats, supply_at

FULL_LOAD = 2
REST, SLOW, FAST = range(3)
DRAWS = 200
FULL_RPM, SLOW_RPM = 1200.0, 800.0
FANS_DB = 40.0  # at the seat, at full speed
OTHER_SOURCES_DB = 15.0  # below that
BACKGROUND_DBA = 25.0


@dataclass(frozen=True)
class Kind:
    """One machine of the kind; areas in cm2, pressures at 1 m/s or shut-off in Pa, heat in W, resistances in K/W."""

    top: bool
    exhaust_fan: bool
    intake: float
    intake_loss: float
    filter_pa: float
    filter_linear: float
    deck: float
    grille: float
    grille_loss: float
    leaks: float
    walls: float
    processor_preheat: float
    graphics_preheat: float
    heat: float
    processor_share: float
    rest: float
    fan_flow: float
    fan_pressure: float
    cooler: float
    cooler_solid: float
    cooler_exponent: float
    graphics: float
    graphics_exponent: float
    sound_exponent: float


def drawn(rng: np.random.Generator) -> Kind:
    """A plausible machine; ranges as the module's text states them."""
    even, third = rng.uniform, np.log(4 / 3)
    return Kind(
        rng.random() < 0.5, rng.random() < 0.5, even(300, 600), even(1.5, 2.5), even(2, 8), even(0.3, 0.8),
        even(250, 450), even(150, 350), even(1.8, 2.5), even(10, 30), even(1.5, 4), 1.35 ** rng.standard_normal(),
        even(1.5, 3),
        even(275, 470), even(0.28, 0.42), even(35, 60), 0.061 * np.exp(even(-third, third)),
        38 * np.exp(even(-third, third)), even(0.14, 0.28), even(0.4, 0.6), max(0.07 + 0.05 * rng.standard_normal(), 0),
        even(0.18, 0.25), max(0.07 + 0.05 * rng.standard_normal(), 0), 50 + 5 * rng.standard_normal(),
    )  # fmt: skip


MIDDLE = Kind(
    top=True, exhaust_fan=True, intake=450, intake_loss=2, filter_pa=5, filter_linear=0.55, deck=350, grille=250,
    grille_loss=2.15, leaks=20, walls=2.75, processor_preheat=1, graphics_preheat=2.25, heat=372, processor_share=0.35,
    rest=47, fan_flow=0.061, fan_pressure=38, cooler=0.21, cooler_solid=0.5, cooler_exponent=0.07, graphics=0.215,
    graphics_exponent=0.07, sound_exponent=50,
)  # fmt: skip


def tower(kind: Kind) -> Enclosure:
    """230 x 580 x 580 mm; air comes through floor and deck and leaves at the rear or, with the board turned, on top."""
    out = ("main", OUTSIDE)
    linear, rest = kind.filter_linear, 1 - kind.filter_linear
    screen = Filter("screen", 0.07, kind.filter_pa * linear, kind.filter_pa * rest)
    face = "top" if kind.top else "rear"
    at = {
        "grille": (0.115, 0.35, 0.58) if kind.top else (0.115, 0.58, 0.38),
        "fan": (0.115, 0.48, 0.58) if kind.top else (0.115, 0.58, 0.45),
        "slots": (0.06, 0.40, 0.58) if kind.top else (0.06, 0.58, 0.30),
    }
    openings = (
        mount(
            "floor", "intake", (OUTSIDE, "lower"), 0.18, 3, (0.115, 0.27, 0.0), "bottom", area_m2=kind.intake / 1e4,
            loss_coefficient=kind.intake_loss, filter=screen,
        ),
        opening("deck", "passage", ("lower", "main"), (0.115, 0.3, 0.09), "inner", kind.deck, loss_coefficient=1.5),
        opening("slots", "vent", out, at["slots"], face, 35.0, height_m=0.15, loss_coefficient=2.0, two_way=True),
        opening(
            "grille", "vent", out, at["grille"], face, kind.grille, height_m=0.25 if kind.top else 0.2,
            loss_coefficient=kind.grille_loss, two_way=True,
        ),
        mount("exhaust", "exhaust", out, 0.12, 1, at["fan"], face, may_be_empty=True, area_m2=0.009),
        opening("supply_floor", "vent", (OUTSIDE, "supply"), (0.115, 0.52, 0.0), "bottom", 90.0, height_m=0.12),
        supply_at(("supply", OUTSIDE), (0.115, 0.58, 0.08)),
        opening("seams", "leak", out, (0.23, 0.3, 0.3), "right", kind.leaks),
    )  # fmt: skip
    zones = (
        Zone("lower", (0.115, 0.28, 0.045), 0.18 * kind.walls),
        Zone("main", (0.115, 0.3, 0.33), 0.68 * kind.walls),
        Zone("supply", (0.115, 0.52, 0.08), 0.14 * kind.walls),
    )
    where = seats("main", processor={"preheat": kind.processor_preheat}, graphics={"preheat": kind.graphics_preheat})
    return enclosure("closed", zones, openings, (), where, size_m=(0.23, 0.58, 0.58))


def case_fan(size_m: float, flow: float, pressure: float, exponent: float) -> Fan:
    """A fan with a switch of two speeds that may also rest, a free flow and a shut-off pressure at 1200 rpm."""
    shape = ((0.0, 1.0), (0.35, 0.78), (0.6, 0.55), (0.8, 0.3), (1.0, 0.0))
    steps = (SLOW_RPM, FULL_RPM) if size_m == 0.18 else (900.0, 901.0)
    sound = ((SLOW_RPM, 40.0 - exponent * log10(FULL_RPM / SLOW_RPM)), (FULL_RPM, 40.0))
    code = f"fan-{1000 * size_m:.0f}"
    return Fan(
        code, code, size_m, 0.025, FanCurve(tuple((x * flow, y * pressure) for x, y in shape), FULL_RPM), steps[0],
        steps[1], "switch", sound, 4.0, 20.0, steps_rpm=steps, may_stop=True,
    )  # fmt: skip


@dataclass(frozen=True)
class Result:
    """Rises of processor, graphics board and solid-state drive at intakes at rest, slow and fast (3, parts) [K]."""

    build: Build
    rises: np.ndarray
    cells: Cells

    def fan_level(self, step: int) -> float:
        """Level of the intakes alone at the seat [dB]."""
        return float(level(self.cells.mount_energy[step, 0]))


def solved(kind: Kind, orientation: str = "upright", heat_share: float = 1.0, rest: bool = False) -> Result:
    """Solve a machine at full load with its intakes at rest, at 800 and at 1200 rpm; ``rest`` stops other fans too."""
    box = tower(kind)
    processor = kind.processor_share * kind.heat
    graphics = kind.heat / 1.09 - kind.rest - processor
    board = Graphics(
        "board", "board", graphics, kind.graphics, 95.0, "open", 0.28, 3, ((0.0, 20.0), (1.0, 40.0)),
        flow_exponent=kind.graphics_exponent,
    )  # fmt: skip
    brief = Brief(
        heat_share * processor, "atx", 40.0, drive_count=0, graphics_watts=heat_share * graphics, graphics_count=1,
        graphics_length_m=0.28, graphics_slots=3, orientation=orientation, required_parts=("board",),
    )  # fmt: skip
    case = prepare(brief, box, Catalogue(graphics=(board,)), BayPlan(()), (), 0)
    places = {o.code: o for o in box.openings}
    exhaust = ((places["exhaust"], case_fan(0.12, 0.024, 12.0, 50.0)),) if kind.exhaust_fan else ()
    intakes = ((places["floor"], case_fan(0.18, kind.fan_flow, kind.fan_pressure, kind.sound_exponent)),)
    solid = kind.cooler * kind.cooler_solid
    cooler = make_cooler(r_solid_k_w=solid, r_air_k_w=kind.cooler - solid, flow_exponent=kind.cooler_exponent)
    steps = ((1.0, 0.0),) if rest else ((0.25, 0.0), (0.6, 0.5), (1.0, 1.0))
    build = Build(case, FanSet(intakes, exhaust), cooler, make_supply(rating_w=650.0, speed_steps=steps), None)
    load, shared = load_of(case, build.supply, None), shared_air(case, build.supply, None)
    across = len(build.fans.steps[1])
    rows = FULL_LOAD * 3 * across + np.arange(3) * across + (0 if rest else across - 1)
    cells = solve_cells(case, build.fans, shared.supply, load.heat, rows)
    rises = [
        part_moments(case, case_arrays(case), cooler, np.zeros(5), None, np.repeat(cells.figures[[k]], 5, axis=0),
                     (load.drives_w, load.loss_w))[0][FULL_LOAD]
        for k in (REST, SLOW, FAST)
    ]  # fmt: skip
    return Result(build, np.array(rises), cells)


@cache
def slowed() -> np.ndarray:
    """Gains of processor and graphics board [K] and drop of the case fans [dB] over 200 draws (200, 3)."""
    rng = np.random.default_rng(2026)
    found = []
    for _ in range(DRAWS):
        one = solved(drawn(rng))
        gain = one.rises[SLOW] - one.rises[FAST]
        found.append((gain[0], gain[1], one.fan_level(FAST) - one.fan_level(SLOW)))
    return np.array(found)


def test_slower_intakes_warm_the_processor_by_about_two_kelvin():
    assert 1.0 <= np.median(slowed()[:, 0]) <= 4.0


def test_slower_intakes_warm_the_graphics_board_by_about_three_kelvin():
    assert 1.5 <= np.median(slowed()[:, 1]) <= 6.0


def test_the_graphics_board_warms_more_than_the_processor():
    assert np.mean(slowed()[:, 1] > slowed()[:, 0]) >= 0.8


def test_slower_case_fans_alone_are_some_nine_decibels_quieter():
    assert 7.5 <= np.median(slowed()[:, 2]) <= 10.0


def total(fans_db: float, background_dba: float = -np.inf) -> float:
    """Level [dB] of case fans with sources that stay 15 dB below the fans' first level, and with a background."""
    return float(level(energy(fans_db) + energy(FANS_DB - OTHER_SOURCES_DB) + energy(background_dba)))


def test_the_background_corrected_total_drops_by_about_eight_and_a_half():
    """Corrected as ISO 3744 asks, which leaves a reading alone that is 15 dB or more above the background."""
    drops = []
    for drop in slowed()[:, 2]:
        readings = [total(fans, BACKGROUND_DBA) for fans in (FANS_DB, FANS_DB - drop)]
        before, after = (subtract_background(reading, BACKGROUND_DBA).level_db for reading in readings)
        drops.append(before - after)
    assert 7.5 <= np.median(drops) <= 9.3
    assert 7.5 <= np.median([total(FANS_DB) - total(FANS_DB - drop) for drop in slowed()[:, 2]]) <= 9.3


def test_with_the_background_left_in_the_drop_is_smaller():
    for drop in slowed()[:, 2]:
        left_in = total(FANS_DB, BACKGROUND_DBA) - total(FANS_DB - drop, BACKGROUND_DBA)
        assert left_in < total(FANS_DB) - total(FANS_DB - drop)


@pytest.mark.parametrize("top", [False, True])
@pytest.mark.parametrize("speed", [SLOW, FAST])
def test_turned_on_its_face_nothing_moves_while_fans_run(top, speed):
    kind = replace(MIDDLE, top=top)
    change = solved(kind, "on_front").rises[speed] - solved(kind).rises[speed]
    assert np.abs(change).max() < 0.1


def test_turned_on_its_face_with_fans_at_rest_everything_warms():
    """Exhaust at the top: bottom and top come to stand at nearly one height, and little is left to drive the air."""
    upright, turned = (solved(MIDDLE, way, heat_share=0.25, rest=True) for way in ("upright", "on_front"))
    assert upright.cells.still[REST] and turned.cells.still[REST]
    assert (turned.rises - upright.rises)[REST].min() >= 3.0


def stack_pa(result: Result) -> float:
    """Pressure [Pa] by which the warm main zone drives air in by the floor and out by the grille, by hand."""
    network = result.build.case.plumbing.network
    load, s = load_of(result.build.case, result.build.supply, None), FULL_LOAD
    rises = result.cells.rises[REST]
    main = network.zone("main")
    rise = rises[0, main] + load.loss_w[s] * rises[2, main]
    kelvin = result.build.case.room.temperature_c[s] + ZERO_CELSIUS_K
    lighter = result.build.case.room.density[s] * rise / (kelvin + rise)
    low, high = (np.mean(network.z_branch[list(network.branches_of(code))]) for code in ("floor", "grille"))
    return float(lighter * GRAVITY_M_S2 * (high - low))


@pytest.mark.parametrize(("orientation", "sign"), [("upright", 1), ("on_front", 1), ("on_rear", -1), ("inverted", -1)])
def test_warm_air_at_rest_goes_the_way_the_stack_pressure_says(orientation, sign):
    result = solved(replace(MIDDLE, top=False, exhaust_fan=False), orientation, heat_share=0.25, rest=True)
    network, flow = result.build.case.plumbing.network, result.cells.flows.mass_flow[REST]
    assert np.sign(stack_pa(result)) == sign
    assert np.sign(flow[network.branches_of("floor")[0]]) == sign


@pytest.mark.parametrize("speed", [SLOW, FAST])
def test_stack_pressure_helps_the_fans_upright_and_hinders_them_upside_down(speed):
    kind = replace(MIDDLE, top=False)
    upright, inverted = (one.cells.flows.mass_flow[speed, 0] for one in (solved(kind), solved(kind, "inverted")))
    assert upright > inverted
