"""Under which requirement a candidate without a setting is counted, on figures written by hand."""

import numpy as np
import pytest

from advisor.engine.fit import ORDER
from advisor.engine.judge.reasons import NO_COMMON_SETTING, NOISE
from advisor.engine.search.contest import SETTING_CODES
from advisor.engine.search.group import choose_settings, reasons
from tests.engine.judge.hand_made import by_exhaust, by_intake, by_scenario, hand_made

WANTED = np.array([[True]])


def reason(**figures):
    """Code under which a candidate is counted; it must have no setting."""
    made = hand_made(**figures)
    assert not choose_settings(made.bench, made.sheet, WANTED).accepted.any()
    return SETTING_CODES[int(reasons(made.bench, made.sheet, WANTED)[0, 0])]


def test_codes_follow_the_order_of_checks():
    assert SETTING_CODES[NOISE] == "noise"
    assert SETTING_CODES[NO_COMMON_SETTING] == ORDER[-1] == "no_common_setting"
    assert ORDER[-len(SETTING_CODES) :] == SETTING_CODES


def test_noise_is_counted_first():
    assert reason(level=31.0, slack=-5.0, processor=-5.0) == "noise"


def test_noise_counts_only_where_it_is_judged():
    assert reason(level=by_scenario(25, 25, 50, 50, 50), slack=-1.0) == "drive_limit"


@pytest.mark.parametrize(("limit", "code"), list(enumerate(SETTING_CODES[1:-1])))
def test_limit_that_no_setting_meets_is_counted(limit, code):
    if code == "processor_limit":
        assert reason(level=25.0, slack=9.0, processor=-1.0) == code
    else:
        assert reason(level=25.0, slack=-1.0, limit=limit) == code


def test_processor_comes_before_other_parts():
    assert reason(level=25.0, slack=-1.0, processor=-1.0) == "processor_limit"


def test_limit_missed_in_one_scenario_is_missed():
    assert reason(level=25.0, slack=by_scenario(9, 9, 9, 9, -0.5)) == "drive_limit"


def test_requirements_that_exclude_one_another_have_no_common_setting():
    assert reason(level=by_intake(25, 35), slack=by_scenario(-5, 5, 5, 5, 5) + by_intake(0, 9)) == "no_common_setting"


def test_two_limits_met_at_different_settings_have_no_common_one():
    assert reason(level=20.0, slack=by_exhaust(-3, 3), processor=by_exhaust(3, -3)) == "no_common_setting"


def test_loud_cooler_alone_is_noise():
    assert reason(level=20.0, slack=9.0, cooler_level=(33.0,)) == "noise"


def test_cooler_that_cools_only_when_loud_has_no_common_setting():
    figures = {"processor": -5.0, "cooler_gain": (0.0, 9.0), "cooler_level": (15.0, 33.0)}
    assert reason(level=20.0, slack=9.0, **figures) == "no_common_setting"


def test_switch_that_must_be_at_two_steps_misses_a_limit():
    slack = by_scenario(0, 0, 0, 2, 0) + by_scenario(1, 1, 1, -3, 1) * by_intake(1, -1)
    assert reason(level=20.0, slack=slack, manual=(True, False, False)) == "drive_limit"


def test_switch_quiet_at_one_step_and_cool_at_another_has_no_common_setting():
    # On temperature control the fans would be slow where noise is judged and fast where it is hot.
    figures = {"level": by_intake(25, 35), "slack": by_scenario(9, 9, 9, -1, 9) + by_intake(0, 9)}
    made = hand_made(**figures)
    assert choose_settings(made.bench, made.sheet, WANTED).accepted.all()
    assert reason(**figures, manual=(True, False, False)) == "no_common_setting"


def test_cooler_on_a_switch_keeps_one_step_when_asked_for_noise():
    level = by_scenario(20, 20, 20, 20, 20)
    figures = {"cooler_gain": (0.0, 9.0), "cooler_level": (15.0, 33.0), "processor": by_scenario(5, 5, 5, -5, 5)}
    assert reason(level=level, slack=9.0, manual=(False, False, True), **figures) == "no_common_setting"


def test_only_wanted_candidates_are_asked():
    made = hand_made(level=31.0, slack=1.0)
    assert reasons(made.bench, made.sheet, ~WANTED).tolist() == [[-1]]
