"""Failures, unreadable sectors, rebuilds and the mean time to data loss."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.storage.data_loss import loss_within, mttdl_first_order_h, mttdl_h
from advisor.engine.storage.reliability import (
    loss_in_rebuild,
    mtbf_from_rate,
    rate_from_mtbf,
    read_error_probability,
    rebuild_hours,
)

REBUILD = {"hours": 24.0, "mtbf_h": 1e6, "read_tb_per_drive": 8.0, "read_error_rate": 1e-15}


@given(st.floats(1e-6, 0.99))
def test_failure_rate_survives_the_way_there_and_back(rate):
    assert rate_from_mtbf(mtbf_from_rate(rate)) == pytest.approx(rate, rel=1e-12)


@pytest.mark.parametrize("rate", [0.0, 1.0, -0.1, float("nan")])
def test_failure_rate_must_be_a_share(rate):
    with pytest.raises(InputError, match="not a share"):
        mtbf_from_rate(rate)


@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0))
def test_reading_twice_fails_unless_both_reads_succeed(one, other):
    both = 1.0 - (1.0 - read_error_probability(one, 1e-14)) * (1.0 - read_error_probability(other, 1e-14))
    assert read_error_probability(one + other, 1e-14) == pytest.approx(both, abs=1e-12)


def test_negative_reading_is_refused():
    with pytest.raises(InputError, match="-1 TB"):
        read_error_probability(-1.0, 1e-14)


def test_rebuild_at_rest_reads_the_drive_once():
    assert rebuild_hours(18.0, 250.0, slowdown=1.0) == pytest.approx(18e6 / 250.0 / 3600.0)


def test_rebuild_without_a_rate_is_refused():
    with pytest.raises(InputError, match="transfer rate of 0"):
        rebuild_hours(8.0, 0.0)


def test_without_redundancy_the_first_failure_is_the_loss():
    assert loss_in_rebuild(4, 0, **REBUILD) == 1.0


@given(st.integers(5, 20), st.integers(1, 3))
def test_each_further_parity_makes_a_rebuild_safer(members, tolerated):
    assert loss_in_rebuild(members, tolerated + 1, **REBUILD) < loss_in_rebuild(members, tolerated, **REBUILD)


@given(st.integers(4, 30), st.integers(1, 2))
def test_each_further_drive_makes_a_rebuild_riskier(members, tolerated):
    assert loss_in_rebuild(members, tolerated, **REBUILD) < loss_in_rebuild(members + 1, tolerated, **REBUILD)


def test_rebuild_risk_agrees_with_a_simulation():
    """Draw failures and unreadable sectors one by one; tolerance 4 standard errors."""
    members, tolerated, fails, unreadable = 8, 2, 0.05, read_error_probability(8.0 * 6, 1e-15)
    rng = np.random.default_rng(20)
    further = rng.binomial(1, fails, (200_000, members - 1)).sum(axis=1)
    lost = (further >= tolerated) | ((further == tolerated - 1) & (rng.random(200_000) < unreadable))
    given_ = {**REBUILD, "hours": -math.log1p(-fails) * 1e6}
    error = math.sqrt(lost.mean() * (1 - lost.mean()) / lost.size)
    assert loss_in_rebuild(members, tolerated, **given_) == pytest.approx(lost.mean(), abs=4 * error)


def test_mirror_reads_one_drive_only():
    risk = loss_in_rebuild(2, 1, one_source=True, **REBUILD)
    assert risk == pytest.approx(2.4e-5 + read_error_probability(8.0, 1e-15), rel=1e-3)


def absorption_time(members, tolerated, mtbf, repair, unreadable, later):
    """Solve the chain's linear equations for the mean time to loss from the state with all drives well."""
    size = tolerated + 1
    rates = np.zeros((size, size))
    for failed in range(size):
        down = (members - failed) / (later if failed else mtbf)
        up = 1.0 / repair if failed else 0.0
        if failed == tolerated and tolerated:
            down, up = down + unreadable * up, (1.0 - unreadable) * up
        rates[failed, failed] = -(down + up)
        if failed:
            rates[failed, failed - 1] = up
        if failed + 1 < size:
            rates[failed, failed + 1] = down
    return float(np.linalg.solve(rates, -np.ones(size))[0])


@given(
    st.integers(5, 30),
    st.integers(0, 3),
    st.floats(1e2, 1e4),
    st.floats(5.0, 300.0),
    st.floats(0, 1),
    st.floats(0.05, 1),
)
def test_mean_time_to_loss_solves_the_chain(members, tolerated, mtbf, repair, unreadable, correlated):
    # The equations lose up to nine digits where repairs are a thousand times faster than failures.
    expected = absorption_time(members, tolerated, mtbf, repair, unreadable, correlated * mtbf)
    found = mttdl_h(members, tolerated, mtbf, repair, unreadable, later_mtbf_h=correlated * mtbf)
    assert found == pytest.approx(expected, rel=1e-6)


@given(st.integers(5, 60), st.integers(0, 3))
def test_more_drives_lose_data_sooner(members, tolerated):
    assert mttdl_h(members + 1, tolerated, 1e6, 30.0, 0.1) < mttdl_h(members, tolerated, 1e6, 30.0, 0.1)


@given(st.integers(5, 60), st.integers(0, 3))
def test_leading_term_stays_just_below_the_exact_time(members, tolerated):
    ratio = mttdl_first_order_h(members, tolerated, 1e6, 30.0) / mttdl_h(members, tolerated, 1e6, 30.0)
    assert 1.0 - 1e-2 < ratio <= 1.0 + 1e-12


def test_a_rebuild_that_never_succeeds_adds_one_failure_time():
    assert mttdl_h(4, 1, 1e6, 1e-3, unreadable=1.0) == pytest.approx(1e6 / 4)


@pytest.mark.parametrize(("members", "tolerated"), [(2, 2), (3, -1), (0, 0)])
def test_group_must_be_larger_than_its_tolerance(members, tolerated):
    with pytest.raises(InputError, match=f"{members} drives cannot survive {tolerated} failures"):
        mttdl_h(members, tolerated, 1e6, 30.0)


def test_chance_of_loss_over_one_mean_time():
    assert loss_within(10.0, 87_600.0) == pytest.approx(1.0 - math.exp(-1.0))


def test_chance_of_loss_needs_a_mean_time():
    with pytest.raises(InputError, match="give more than 0"):
        loss_within(1.0, 0.0)
