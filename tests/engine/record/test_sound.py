"""Where the noise comes from: parts add up to the total, and the chance of keeping the target follows from it."""

import math

import pytest

from advisor.engine.record.spot import CODES
from tests.engine.record import found


def heard(record, scenario):
    return record.predictions[scenario].noise


@pytest.mark.parametrize("scenario", CODES)
def test_contributions_add_up_to_the_level(scenario):
    noise = heard(found.record(), scenario)
    total = 10 * math.log10(sum(10 ** (one.level_dba / 10) for one in noise.contributions))
    assert total == pytest.approx(noise.noise_dba.value, abs=1e-9)
    assert sum(one.heard_share for one in noise.contributions) == pytest.approx(1.0)


def test_background_is_added_as_energy():
    noise, background = heard(found.record(), "working"), found.brief().room_background_dba
    both = 10 * math.log10(10 ** (noise.noise_dba.value / 10) + 10 ** (background / 10))
    assert noise.with_background_dba == pytest.approx(both, abs=1e-9)


def test_every_source_has_its_part():
    noise, one = heard(found.record(), "working"), found.best()[0].candidate
    assert noise.parts["drives"] == one.drive.code
    assert noise.parts["supply"] == one.supply.code
    assert noise.parts["front"] == one.fans.intake[0][1].code


def test_target_holds_in_idle_and_working_only():
    record = found.record()
    held = [code for code in CODES if heard(record, code).target_dba is not None]
    assert held == ["idle", "working"]
    assert heard(record, "hot_day").chance is None


def test_chance_at_the_target_is_even_and_one_deviation_below_it_that_of_the_normal_table():
    noise = heard(found.record(), "working")
    level, u = noise.noise_dba.value, noise.noise_dba.standard_uncertainty
    assert heard(found.describe_with_target(level), "working").chance == pytest.approx(0.5)
    # standard normal table: P(Z < 1) = 0.8413
    assert heard(found.describe_with_target(level + u), "working").chance == pytest.approx(0.8413, abs=5e-5)


def test_chance_of_the_build_is_that_of_its_loudest_scenario():
    record = found.record()
    assert record.noise_chance == min(heard(record, code).chance for code in ("idle", "working"))
