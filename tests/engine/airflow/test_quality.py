"""The path of the air in networks small enough to reckon by hand."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.engine.airflow.quality import air_paths

THROUGHFLOW, FRESH, FILTERED, WRONG_WAY, SHORT_CIRCUIT, SCORE = range(6)
OUT = None


def paths(zones, flows, heat, hot=(), filtered=(), two_way=()):
    """Fresh share of each zone and the six figures; ``flows`` are (from, to, kg/s), outside being None."""
    frm, to = (np.array([zones if end is OUT else end for end in ends]) for ends in list(zip(*flows, strict=True))[:2])
    m = np.array([[flow for *_, flow in flows]], dtype=float)
    flags = [np.isin(np.arange(len(flows)), list(which)) for which in (hot, filtered, two_way)]
    fresh, figures = np.zeros((1, zones)), np.zeros((1, 6))
    air_paths(frm, to, m, np.array([heat], dtype=float), *flags, zones, fresh, figures)
    return fresh[0], figures[0]


def test_zones_in_series_pass_fresh_air_on_until_one_heats_it():
    fresh, figures = paths(3, [(OUT, 0, 0.02), (0, 1, 0.02), (1, 2, 0.02), (2, OUT, 0.02)], [0.0, 30.0, 10.0])
    assert fresh == pytest.approx([1.0, 1.0, 0.0], abs=1e-9)
    assert figures[FRESH] == pytest.approx(0.75)
    assert figures[THROUGHFLOW] == pytest.approx(0.02)


def test_a_bypass_brings_its_share_of_fresh_air():
    fresh, _ = paths(2, [(OUT, 0, 0.03), (0, 1, 0.03), (OUT, 1, 0.01), (1, OUT, 0.04)], [50.0, 50.0])
    assert fresh == pytest.approx([1.0, 0.25], abs=1e-9)


def test_air_that_comes_back_from_a_heated_zone_is_not_fresh():
    fresh, _ = paths(2, [(OUT, 0, 0.01), (0, 1, 0.04), (1, 0, 0.03), (1, OUT, 0.01)], [0.0, 80.0])
    assert fresh == pytest.approx([0.25, 0.25], abs=1e-9)


def test_air_that_goes_round_unheated_zones_stays_fresh():
    fresh, _ = paths(2, [(OUT, 0, 0.01), (0, 1, 0.04), (1, 0, 0.03), (1, OUT, 0.01)], [0.0, 0.5])
    assert fresh == pytest.approx([1.0, 1.0], abs=1e-6)


def test_air_through_a_heated_passage_is_not_fresh():
    fresh, figures = paths(1, [(OUT, 0, 0.03), (OUT, 0, 0.01), (0, OUT, 0.04)], [40.0], hot=[0])
    assert fresh == pytest.approx([0.25], abs=1e-9)
    assert figures[FRESH] == pytest.approx(0.25)


def test_flow_against_a_branch_is_followed_the_other_way():
    forward = paths(2, [(OUT, 0, 0.03), (0, 1, 0.03), (OUT, 1, 0.01), (1, OUT, 0.04)], [50.0, 50.0])
    against = paths(2, [(0, OUT, -0.03), (1, 0, -0.03), (1, OUT, -0.01), (OUT, 1, -0.04)], [50.0, 50.0])
    assert against[0] == pytest.approx(forward[0])
    assert against[1][[THROUGHFLOW, FRESH]] == pytest.approx(forward[1][[THROUGHFLOW, FRESH]])


def test_filtered_share_is_of_what_comes_in():
    flows = [(OUT, 0, 0.03), (OUT, 0, 0.01), (0, OUT, 0.04)]
    assert paths(1, flows, [9.0], filtered=[0, 2])[1][FILTERED] == pytest.approx(0.75)


def test_wrong_way_is_what_leaves_by_an_intake():
    flows = [(OUT, 0, 0.03), (OUT, 0, -0.006), (0, OUT, 0.024)]
    assert paths(1, flows, [9.0])[1][WRONG_WAY] == pytest.approx(0.2)


def test_openings_for_both_ways_have_no_wrong_way():
    flows = [(OUT, 0, 0.03), (OUT, 0, -0.006), (0, OUT, 0.024)]
    assert paths(1, flows, [9.0], two_way=[1])[1][WRONG_WAY] == 0.0


def test_a_breath_the_wrong_way_does_not_count():
    flows = [(OUT, 0, 0.03), (OUT, 0, -0.00029), (0, OUT, 0.02971)]
    assert paths(1, flows, [9.0])[1][WRONG_WAY] == 0.0


def test_short_circuit_is_fresh_air_that_leaves_unheated():
    flows = [(OUT, 0, 0.04), (0, OUT, 0.01), (0, 1, 0.03), (1, OUT, 0.03)]
    assert paths(2, flows, [0.0, 60.0])[1][SHORT_CIRCUIT] == pytest.approx(0.25)


def test_air_that_leaves_through_a_heated_passage_has_cooled_something():
    flows = [(OUT, 0, 0.04), (0, OUT, 0.01), (0, 1, 0.03), (1, OUT, 0.03)]
    assert paths(2, flows, [0.0, 60.0], hot=[1])[1][SHORT_CIRCUIT] == 0.0


def test_score_is_the_mean_of_what_is_good():
    flows = [(OUT, 0, 0.04), (OUT, 0, -0.004), (0, OUT, 0.006), (0, 1, 0.03), (1, OUT, 0.03)]
    fresh, figures = paths(2, flows, [0.0, 60.0], filtered=[0])
    assert figures[SCORE] == pytest.approx((fresh[1] + 1.0 + 1.0 - 0.1 + 1.0 - (0.004 + 0.006) / 0.04) / 4)


def test_air_at_rest_has_no_path_and_no_infinite_figures():
    fresh, figures = paths(1, [(OUT, 0, 0.0), (0, OUT, 0.0)], [10.0])
    assert np.all(np.isfinite(fresh)) and np.all(np.isfinite(figures))
    assert figures[THROUGHFLOW] < 1e-12


def test_rows_do_not_touch_each_other():
    frm, to = np.array([1, 0]), np.array([0, 1])
    m, heat = np.array([[0.02, 0.02], [0.05, 0.05]]), np.array([[10.0], [0.0]])
    no = np.zeros(2, dtype=bool)
    fresh, figures = np.zeros((2, 1)), np.zeros((2, 6))
    air_paths(frm, to, m, heat, no, no, no, 1, fresh, figures)
    assert figures[:, THROUGHFLOW] == pytest.approx([0.02, 0.05])
    assert figures[:, SHORT_CIRCUIT] == pytest.approx([0.0, 1.0], abs=1e-9)
