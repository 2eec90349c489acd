"""Whether the demo catalogue's parts could be real ones: typical values of the trade, power laws and plain physics.

Typical values: from memory, common practice, no source; real parts scatter by a third around them, and so may these.
Fan laws: flow ~ N D^3, pressure ~ N^2 D^2, sound power ~ 50 log N + 70 log D (AMCA and ASHRAE; the 70 from memory).
"""

from collections import Counter
from itertools import pairwise
from math import log10
from pathlib import Path

import pytest
from scipy.stats import spearmanr

CATALOG = Path(__file__).parents[2] / "fixtures" / "catalog"
THIRD = (2 / 3, 4 / 3)

# Typical fans: size mm -> speed rpm, free flow m3/s, shut-off pressure Pa, sound pressure at 1 m dBA.
TYPICAL = {
    80: (2000, 0.015, 20, 24),
    92: (1800, 0.019, 18, 23),
    120: (1200, 0.024, 12, 20),
    140: (1000, 0.030, 9, 19),
    180: (700, 0.036, 13, 22),
    200: (800, 0.055, 10, 25),
}
TYPICAL_THICK = (4000, 0.09, 170, 55)  # 120 mm, 38 mm thick
POWER_OVER_PRESSURE_DB = 9.5  # sound power over pressure at 1 m: 8 (over a hard plane) to 11 (free)


def typical(fan):
    """Free flow [m3/s], shut-off pressure [Pa] and sound power [dBA] of a typical fan of this size and speed."""
    if fan["thickness_mm"] >= 38:
        (speed, flow, pressure, sound), size = TYPICAL_THICK, fan["size_mm"] / 120
    else:
        (speed, flow, pressure, sound), size = TYPICAL[fan["size_mm"]], 1.0
    turn = fan["max_rpm"] / speed
    level = sound + POWER_OVER_PRESSURE_DB + 50 * log10(turn) + 70 * log10(size)
    return flow * turn * size**3, pressure * turn**2 * size**2, level


def within(value, expected, band=THIRD):
    return band[0] * expected <= value <= band[1] * expected


def rank_correlation(blocks, first, second):
    return spearmanr([b[first] for b in blocks], [b[second] for b in blocks]).statistic


def curves(sheets):
    for name in ("fans", "supplies", "graphics"):
        yield from ((part["code"], part["curve"]["points_m3h_pa"]) for part in sheets[name] if "curve" in part)


def rests(fan):
    """The loss of a fan at rest in velocity heads on the ring between hub and frame (hub 40 % of the diameter)."""
    ring = 3.1416 / 4 * (fan["size_mm"] / 1000) ** 2 * (1 - 0.4**2)
    return fan["curve"]["rest_loss_pa_s2_m6"] * ring**2 / 0.6


def test_every_file_says_that_it_is_invented():
    unsaid = [f.name for f in CATALOG.rglob("*.yaml") if "invented" not in f.read_text().splitlines()[0].lower()]
    assert unsaid == []


def test_there_are_enough_parts_of_each_sort(sheets):
    least = {"fans": 40, "coolers": 25, "drives": 25, "supplies": 20, "boards": 10, "ssds": 8, "processors": 8}
    least |= {"graphics": 8, "adapters": 6, "controllers": 6, "ups_units": 6, "cards": 5}
    assert {name: len(sheets[name]) for name in least if len(sheets[name]) < least[name]} == {}


def test_fans_come_in_six_sizes(sheets):
    assert Counter(fan["size_mm"] for fan in sheets["fans"]) == {80: 6, 92: 5, 120: 11, 140: 9, 180: 5, 200: 4}


def test_free_flow_follows_speed_and_size(sheets):
    free = {fan["code"]: (fan["curve"]["points_m3h_pa"][-1][0] / 3600, typical(fan)[0]) for fan in sheets["fans"]}
    assert {code: pair for code, pair in free.items() if not within(*pair)} == {}


def test_shut_off_pressure_follows_speed_squared(sheets):
    shut = {fan["code"]: (fan["curve"]["points_m3h_pa"][0][1], typical(fan)[1]) for fan in sheets["fans"]}
    assert {code: pair for code, pair in shut.items() if not within(*pair)} == {}


def test_sound_power_follows_speed_and_size(sheets):
    loud = {fan["code"]: (fan["sound_rpm_dba"][-1][1], typical(fan)[2]) for fan in sheets["fans"]}
    assert {code: pair for code, pair in loud.items() if abs(pair[0] - pair[1]) > 5} == {}


def test_sound_near_full_speed_falls_by_fifty_decibels_a_decade(sheets):
    slopes = {}
    for part in sheets["fans"] + [cooler for cooler in sheets["coolers"] if cooler["max_rpm"]]:
        (slow, low), (fast, high) = part["sound_rpm_dba"][-2:]
        slopes[part["code"]] = (high - low) / log10(fast / slow)
    assert {code: slope for code, slope in slopes.items() if not 44 <= slope <= 56} == {}


def test_sound_is_read_over_the_whole_speed_range(sheets):
    for part in sheets["fans"] + [cooler for cooler in sheets["coolers"] if cooler["max_rpm"]]:
        speeds = [speed for speed, _ in part["sound_rpm_dba"]]
        assert (speeds[0], speeds[-1]) == (part["min_rpm"], part["max_rpm"]), part["code"]


def test_slowest_speed_is_what_fans_hold(sheets):
    shares = {f["code"]: f["min_rpm"] / f["max_rpm"] for f in sheets["fans"] if f["control"] == "temperature"}
    assert {code: share for code, share in shares.items() if not 0.25 <= share <= 0.40} == {}


def test_curves_run_from_shut_off_to_free_flow(sheets):
    for code, points in curves(sheets):
        flows, pressures = zip(*points, strict=True)
        assert 6 <= len(points) <= 9, code
        assert flows[0] == 0 and pressures[-1] == 0 and min(pressures) == 0, code
        assert all(slow < fast for slow, fast in pairwise(flows)), code


def test_a_few_fans_stall_and_the_rest_fall(sheets):
    rising = [code for code, points in curves(sheets) if any(a[1] <= b[1] for a, b in pairwise(points))]
    assert 2 <= len(rising) <= 5
    assert set(rising) <= {fan["code"] for fan in sheets["fans"]}


def test_no_fan_gives_more_air_power_than_it_draws(sheets):
    shares = {}
    for fan in sheets["fans"]:
        air = max(flow / 3600 * pressure for flow, pressure in fan["curve"]["points_m3h_pa"])
        shares[fan["code"]] = air / fan["power_w"]
    assert {code: share for code, share in shares.items() if not 0.04 <= share <= 0.45} == {}


def test_a_fan_at_rest_is_a_loss_of_a_few_velocity_heads(sheets):
    heads = {f["code"]: rests(f) for f in sheets["fans"] if "rest_loss_pa_s2_m6" in f["curve"]}
    assert len(heads) >= 5
    assert {code: loss for code, loss in heads.items() if not 2 <= loss <= 10} == {}


def test_fans_differ_in_control(sheets):
    controls = Counter((fan["control"], len(fan.get("steps_rpm", []))) for fan in sheets["fans"])
    assert controls["temperature", 0] > 20 and controls["switch", 2] >= 1 and controls["switch", 3] >= 3
    assert 3 <= sum(fan.get("may_stop", False) for fan in sheets["fans"]) <= 6


def cooler_at_1200(cooler):
    """Resistance [K/W] at 1200 rpm of its own fan and the passing flow at which the figures hold."""
    turn = 1200 / cooler["max_rpm"] if cooler["max_rpm"] else 1
    return cooler["r_solid_k_w"] + cooler["r_air_k_w"] * turn ** -cooler["speed_exponent"]


def test_cooler_resistance_suits_its_height(sheets):
    # Towers with one and two stacks: 0.14 to 0.28 K/W; under 70 mm: 0.35 to 0.5.
    for cooler in (c for c in sheets["coolers"] if c["max_rpm"]):
        low, high = (0.35, 0.50) if cooler["height_mm"] < 70 else (0.14, 0.28)
        assert THIRD[0] * low <= cooler_at_1200(cooler) <= THIRD[1] * high, cooler["code"]


def test_taller_coolers_resist_less(sheets):
    blown = [{**c, "r": cooler_at_1200(c)} for c in sheets["coolers"] if c["max_rpm"]]
    assert rank_correlation(blown, "height_mm", "r") < -0.7


def test_coolers_span_flat_to_tall_and_leave_no_socket_out(sheets):
    heights = [cooler["height_mm"] for cooler in sheets["coolers"]]
    assert (min(heights), max(heights)) == (37, 170)
    assert {s for c in sheets["coolers"] for s in c["sockets"]} == {"S1", "S2", "S3"}


def test_coolers_without_a_fan_live_on_passing_air(sheets):
    still = [cooler for cooler in sheets["coolers"] if cooler["max_rpm"] == 0]
    assert len(still) >= 2
    assert all(c["flow_exponent"] >= 0.3 and c["speed_exponent"] == 0 and c["power_w"] == 0 for c in still)


# 7200 rpm: 4 to 6 W idle, 6 to 9 W seeking, 1.8 to 2.2 A for 8 to 12 s, 25 to 34 dB idle; 5400 rpm: 3 to 4 W idle,
# 4 to 6 W seeking, 21 to 26 dB. Common practice, no source.
@pytest.mark.parametrize(
    ("fast", "idle_w", "seek_w", "sound_db"),
    [(True, (4, 6), (6, 9), (25, 34)), (False, (3, 4), (4, 6), (21, 26))],
)
def test_drives_draw_and_sound_like_drives(sheets, fast, idle_w, seek_w, sound_db):
    large = [d for d in sheets["drives"] if d["form"] == "3.5" and (d["idle_w"] > 4.0) == fast]
    assert len(large) >= 7
    for drive in large:
        assert idle_w[0] <= drive["idle_w"] <= idle_w[1], drive["code"]
        assert seek_w[0] <= drive["seek_w"] <= seek_w[1], drive["code"]
        assert sound_db[0] <= drive["idle_sound_dba"] <= sound_db[1], drive["code"]
        assert 1.6 <= drive["spin_up_a"] <= 2.2 and 8 <= drive["spin_up_s"] <= 12, drive["code"]


def test_drives_rise_as_a_plate_in_slow_air_does(sheets):
    # Flat plate 147 mm long in air of 1 m/s: Re 9690, Nu = 0.664 Re^0.5 Pr^(1/3) (Incropera, chapter 7), and a little
    # radiation. 7200 rpm drives rise 12 to 22 K (common practice, no source).
    film = 0.664 * 9690**0.5 * 0.71 ** (1 / 3) * 0.0258 / 0.147 + 0.7
    for drive in (d for d in sheets["drives"] if d["form"] == "3.5" and d["idle_w"] > 4.0):
        assert 12 <= drive["seek_w"] / (film * drive["surface_cm2"] / 1e4) <= 22, drive["code"]


def test_drives_are_ordered_in_themselves(sheets):
    for drive in sheets["drives"]:
        assert drive["idle_w"] < drive["seek_w"] and drive["idle_sound_dba"] <= drive["seek_sound_dba"], drive["code"]
        assert drive["read_error_rate"] in (1e-14, 1e-15) and 0.004 < drive["yearly_failure_rate"] < 0.02, drive["code"]


def test_drive_surface_is_that_of_its_case(sheets):
    # 147 x 101.6 x 26.1 mm; 100 x 70 x 7 to 15 mm (the two published form factors).
    areas = {"3.5": (428, 429), "2.5": (160, 195)}
    assert all(areas[d["form"]][0] <= d["surface_cm2"] <= areas[d["form"]][1] for d in sheets["drives"])


def test_drives_reach_from_small_to_large(sheets):
    large = [d["capacity_tb"] for d in sheets["drives"] if d["form"] == "3.5"]
    assert (min(large), max(large)) == (2, 24)
    assert {d["max_per_box"] for d in sheets["drives"]} >= {4, 8, 24}


def test_supply_efficiency_is_that_of_a_labelled_one(sheets):
    # From the lowest label (80 % at 20, 50 and 100 % load) to above the highest one's 94 % at half load: the 80 PLUS
    # table for 115 V, from memory.
    for supply in sheets["supplies"]:
        curve = dict(map(tuple, supply["efficiency"]))
        assert all(0.80 <= curve[share] <= 0.96 for share in (0.2, 0.5, 1)), supply["code"]
        assert curve[0.5] == max(curve.values()) and curve[0.02] < curve[0.1] < curve[0.2], supply["code"]


def test_supplies_share_few_air_paths_to_the_last_figure(sheets):
    air, paths = {}, {}
    for supply in sheets["supplies"]:
        same = (supply["curve"], supply["path_area_cm2"], supply["path_loss"])
        assert air.setdefault(supply["air_path"], same) == same, supply["code"]
        paths.setdefault(supply["form"], set()).add(supply["air_path"])
    assert set(paths) == {"atx", "sfx", "flex", "redundant_1u"} and max(map(len, paths.values())) <= 3


def test_supply_fans_have_two_or_three_steps_and_some_rest(sheets):
    steps = [supply["speed_steps"] for supply in sheets["supplies"]]
    assert all(2 <= len(s) <= 3 and s[-1] == [1, 1] for s in steps)
    assert all(low[1] < high[1] for s in steps for low, high in pairwise(s))
    assert 5 <= sum(s[0][1] == 0 for s in steps) <= 15


def test_supply_sound_follows_its_fan(sheets):
    for supply in sheets["supplies"]:
        levels = dict(map(tuple, supply["sound_share_dba"]))
        last_but_one, full = supply["speed_steps"][-2:]
        drop = levels[1] - levels[last_but_one[0]]
        assert drop == pytest.approx(-50 * log10(last_but_one[1] / full[1]), abs=1.5), supply["code"]


def test_graphics_boards_and_processors_resist_like_real_ones(sheets):
    # Boards of 150 to 300 W: 0.18 to 0.25 K/W; chip to lid: 0.05 to 0.25 K/W. Common practice, no source.
    big = [board["r_k_w"] for board in sheets["graphics"] if board["heat_w"] >= 150]
    assert all(THIRD[0] * 0.18 <= r <= THIRD[1] * 0.25 for r in big)
    assert all(0.05 <= processor["inner_k_w"] <= 0.25 for processor in sheets["processors"])
    assert rank_correlation(sheets["processors"], "heat_w", "inner_k_w") < -0.7


def test_blowers_and_only_blowers_have_a_curve(sheets):
    assert all(("curve" in board) == (board["airflow"] == "blower") for board in sheets["graphics"])


def test_controllers_want_more_air_the_hotter_they_run(sheets):
    assert rank_correlation(sheets["controllers"], "heat_w", "needed_air_m_s") > 0.9
    assert max(c["heat_w"] for c in sheets["controllers"]) <= 20


def test_five_drives_go_on_edge_into_three_bays(sheets):
    fits = [(a["from_form"], a["bays"], a["to_form"], a["drives"]) for a in sheets["adapters"]]
    assert ("5.25", 3, "3.5", 5) in fits and ("5.25", 3, "3.5", 4) in fits
    assert any(to_form == "2.5" for _, _, to_form, _ in fits)


def test_ups_units_run_longer_on_less_and_lose_by_it(sheets):
    for ups in sheets["ups_units"]:
        energy = [watts * minutes for watts, minutes in ups["runtime_w_min"]]
        assert energy == sorted(energy, reverse=True), ups["code"]  # cells give less the harder they are drawn on
        assert ups["runtime_w_min"][-1][0] == ups["rating_w"], ups["code"]


def test_larger_drives_and_stronger_supplies_cost_more(sheets):
    for name, figure in (("drives", "capacity_tb"), ("supplies", "rating_w")):
        for form in {part["form"] for part in sheets[name]}:
            like = [part for part in sheets[name] if part["form"] == form]
            assert rank_correlation(like, figure, "price") > 0.7, form


def test_stronger_ups_units_cost_more(sheets):
    assert rank_correlation(sheets["ups_units"], "rating_w", "price") == 1


def test_codes_belong_to_one_part_alone(sheets, enclosures):
    parts = [name for name in sheets if name not in ("makers", "sources")]
    counts = Counter(part["code"] for name in parts for part in sheets[name]) + Counter(e["code"] for e in enclosures)
    assert [code for code, count in counts.items() if count > 1] == []


def test_makers_and_sources_are_listed(sheets, enclosures):
    parts = [part for name in sheets if name not in ("makers", "sources") for part in sheets[name]] + enclosures
    assert {part["maker"] for part in parts} <= {maker["name"] for maker in sheets["makers"]}
    named = {part["source"] for part in parts} | {s for part in parts for s in part.get("sources", {}).values()}
    assert named == {source["code"] for source in sheets["sources"]}


def test_only_what_a_bench_read_is_called_measured(sheets):
    assert {source["kind"] for source in sheets["sources"]} == {"measured", "declared", "estimated"}
    assert {bool(s["bench"]) for s in sheets["sources"] if s["kind"] == "measured"} == {True}
    assert {bool(s["bench"]) for s in sheets["sources"] if s["kind"] != "measured"} == {False}
