"""Which setting is chosen in each scenario, on figures written by hand."""

from math import log

import numpy as np
import pytest

from advisor.engine.desirability import AIRFLOW_SCORE, HEADROOM_K, NOISE_MARGIN_DB, ramp
from advisor.engine.search.group import choose_settings, least_misses
from tests.engine.judge.hand_made import by_exhaust, by_intake, by_scenario, hand_made

WANTED = np.array([[True]])


def chosen(**figures):
    made = hand_made(**figures)
    verdict = choose_settings(made.bench, made.sheet, WANTED)
    return verdict.rows[0, 0].tolist(), verdict.steps[0, 0].tolist(), verdict.figures[0, 0].tolist()


def miss(**figures):
    made = hand_made(**figures)
    least, rows, steps = least_misses(made.bench, made.sheet, WANTED)
    return least[0, 0], rows[0, 0].tolist(), steps[0, 0].tolist()


def test_quiet_counts_only_where_noise_is_judged():
    rows, _, _ = chosen(level=by_intake(22, 28), slack=by_intake(8, 12))
    assert rows == [0, 2, 5, 7, 9]


def test_loud_settings_are_left_where_noise_is_judged():
    rows, _, figures = chosen(level=by_intake(29, 31), slack=by_intake(1, 14))
    assert rows == [0, 2, 5, 7, 9]
    assert figures == pytest.approx([1.0, 1.0, 0.9])


def test_setting_at_both_limits_is_accepted():
    rows, _, figures = chosen(level=30.0, slack=0.0)
    assert rows == [0, 1, 2, 3, 4]
    assert figures == pytest.approx([0.0, 0.0, 0.9], abs=1e-12)


@pytest.mark.parametrize("figures", [{"level": 30.01, "slack": 5.0}, {"level": 25.0, "slack": -0.01}])
def test_candidate_beyond_a_limit_has_no_setting(figures):
    assert chosen(**figures)[0] == [-1] * 5


def test_one_bad_scenario_is_enough():
    assert chosen(level=25.0, slack=by_scenario(9, 9, 9, -1, 9))[0] == [-1] * 5


def test_limits_are_judged_apart_from_noise():
    rows, _, _ = chosen(level=by_intake(29, 40), slack=by_scenario(9, 9, -1, 9, 9) + by_intake(0, 3))
    assert rows[2] == 5


def test_best_of_all_criteria_wins():
    level, slack, airflow = (20.0, 26.0), (4.0, 9.0), (0.5, 0.9)
    rows, _, _ = chosen(level=by_intake(*level), slack=by_intake(*slack), airflow=by_intake(*airflow))

    def score(k):
        known = ((30 - level[k], NOISE_MARGIN_DB, 3), (slack[k], HEADROOM_K, 3), (airflow[k], AIRFLOW_SCORE, 1))
        return sum(weight * log(ramp(value, *ends)) for value, ends, weight in known)

    assert rows[0] == max((0, 1), key=score)


def test_settings_equal_in_score_leave_the_quieter():
    rows, _, _ = chosen(level=by_intake(28, 26, 27), slack=20.0, airflow=0.99)
    assert rows[2:] == [7, 10, 13]


def test_scores_that_differ_by_rounding_are_equal():
    slack = by_intake(10.0, 10.0 + 1e-13)
    rows, _, _ = chosen(level=by_intake(24, 29), slack=slack)
    assert rows[2] == 4


def test_weight_zero_drops_a_criterion():
    rows, _, _ = chosen(level=by_intake(12, 26), slack=by_intake(2, 14), weights=(0.0, 3.0, 1.0))
    assert rows[0] == 1


def test_cooler_steps_come_on_top():
    rows, steps, figures = chosen(
        level=20.0, slack=20.0, processor=-2.0, cooler_gain=(0.0, 3.0, 8.0), cooler_level=(10.0, 20.0, 40.0)
    )
    assert rows == [0, 1, 2, 3, 4]
    assert steps == [1, 1, 2, 2, 2]
    assert figures[1] == pytest.approx(1.0)


def test_figures_are_the_worst_of_all_scenarios():
    _, _, figures = chosen(
        level=by_scenario(20, 24, 29, 29, 29),
        slack=by_scenario(9, 8, 7, 3, 8),
        airflow=by_scenario(0.9, 0.9, 0.6, 0.9, 0.9),
    )
    assert figures == pytest.approx([6.0, 3.0, 0.6])


def test_noise_judged_nowhere_has_an_endless_margin():
    _, _, figures = chosen(level=60.0, slack=5.0, noisy=(False,) * 5)
    assert figures[0] == np.inf


@pytest.mark.parametrize("group", [0, 1])
def test_switch_keeps_one_step_in_all_scenarios(group):
    steps = (by_intake, by_exhaust)[group]
    manual = (group == 0, group == 1, False)
    # Step 0 is best when quiet counts; only step 1 stays cool on the hot day.
    slack = by_scenario(9, 9, 9, 0, 9) + steps(-1, 1)
    free, _, _ = chosen(level=steps(20, 28), slack=slack)
    fixed, _, _ = chosen(level=steps(20, 28), slack=slack, manual=manual)
    assert [row % 2 for row in free] == [0, 0, 1, 1, 1]
    assert [row % 2 for row in fixed] == [1] * 5


def test_cooler_on_a_switch_keeps_its_step():
    figures = {"processor": by_scenario(9, 9, 9, -1, 9), "cooler_gain": (0.0, 2.0), "cooler_level": (15.0, 27.0)}
    assert chosen(level=15.0, slack=20.0, **figures)[1] == [0, 0, 1, 1, 1]
    assert chosen(level=15.0, slack=20.0, manual=(False, False, True), **figures)[1] == [1] * 5


def test_switch_is_set_by_the_worst_scenario():
    # Step 1 is better in four scenarios, step 0 in the one that decides.
    slack = by_scenario(12, 12, 12, 3, 12) + by_intake(0, 1) * by_scenario(2, 2, 2, -2, 2)
    rows, _, figures = chosen(level=25.0, slack=slack, manual=(True, False, False))
    assert [row % 2 for row in rows] == [0] * 5
    assert figures[1] == pytest.approx(3.0)


def test_switch_steps_equal_in_the_worst_leave_the_quieter():
    level = by_scenario(25, 20, 25, 25, 25) + by_scenario(0, 1, 0, 0, 0) * by_intake(2, 0)
    rows, _, _ = chosen(level=level, slack=5.0, manual=(True, False, False))
    assert [row % 2 for row in rows] == [1] * 5


def test_unwanted_candidate_is_not_judged():
    made = hand_made(level=20.0, slack=5.0)
    verdict = choose_settings(made.bench, made.sheet, ~WANTED)
    assert not verdict.accepted.any()


def test_miss_is_the_worst_scenario_at_its_best_setting():
    least, rows, _ = miss(level=25.0, slack=by_scenario(9, 9, -4, -8, 9) + by_intake(0, 2))
    assert least == pytest.approx(6.0 / 5.0)
    assert rows[2:4] == [5, 7]


def test_miss_weighs_noise_against_warmth():
    # 6 dB too loud or 5 K too warm: the second is half as far off.
    least, rows, _ = miss(level=by_intake(36, 29), slack=by_intake(9, -5))
    assert (least, rows[0]) == (pytest.approx(1.0), 1)


def test_miss_of_a_switch_is_that_of_one_step():
    figures = {"level": by_intake(24, 33), "slack": by_scenario(9, 9, 9, -5, 9) + by_intake(0, 5)}
    assert miss(**figures)[0] <= 0.0
    least, rows, _ = miss(**figures, manual=(True, False, False))
    assert least == pytest.approx(1.0)
    assert len({row % 2 for row in rows}) == 1


def test_miss_counts_the_cooler():
    least, _, steps = miss(
        level=10.0, slack=9.0, processor=-10.0, cooler_gain=(0.0, 4.0), cooler_level=(10.0, 33.0), noisy=(True,) * 5
    )
    assert least == pytest.approx(6.0 / 5.0, abs=1e-6)
    assert steps == [1] * 5
