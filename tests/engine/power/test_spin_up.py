"""Starting many drives on one supply."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.power.loads import build_loads
from advisor.engine.power.spin_up import peak_watts, rest_at_start, spin_up_plan, surge_watts
from tests.engine.make_parts import make_brief, make_drive, make_supply

DRIVE = make_drive(spin_up_a=2.0, spin_up_s=10.0, idle_w=5.0)
counts, rests, ratings = st.integers(0, 40), st.floats(0.0, 200.0), st.floats(50.0, 1200.0)


def peak_by_simulation(drive, count, group_size, rest_watts):
    """Step through the start drive by drive."""
    highest, turning, waiting = rest_watts, 0, count
    while waiting:
        starting = min(group_size, waiting)
        highest = max(highest, rest_watts + turning * 0.6 * drive.idle_w + starting * 12.0 * drive.spin_up_a)
        turning, waiting = turning + starting, waiting - starting
    return highest


def test_all_start_at_once_where_the_rating_allows():
    plan = spin_up_plan(DRIVE, 4, 60.0, make_supply(rating_12v_w=480.0))
    assert (plan.group_size, plan.groups, plan.peak_w_12v, plan.seconds) == (4, 1, 156.0, 10.0)


def test_groups_start_twelve_seconds_apart_or_more():
    plan = spin_up_plan(DRIVE, 10, 100.0, make_supply(rating_12v_w=250.0))
    assert (plan.groups, plan.interval_s, plan.seconds) == (2, 12.0, 22.0)


def test_slow_drives_stretch_the_interval():
    plan = spin_up_plan(make_drive(spin_up_s=20.0), 10, 100.0, make_supply(rating_12v_w=250.0))
    assert (plan.interval_s, plan.seconds) == (20.0, 40.0)


def test_supply_too_weak_for_one_drive_at_a_time():
    plan = spin_up_plan(DRIVE, 10, 100.0, make_supply(rating_12v_w=140.0))
    assert (plan.possible, plan.group_size, plan.peak_w_12v) == (False, 1, 100.0 + 9 * 3.0 + 24.0)


def test_no_drives_make_no_surge():
    plan = spin_up_plan(DRIVE, 0, 100.0, make_supply())
    assert (plan.possible, plan.groups, plan.peak_w_12v, plan.seconds) == (True, 0, 100.0, 0.0)


def test_negative_number_of_drives_is_refused():
    with pytest.raises(InputError, match="-1 drives cannot start"):
        spin_up_plan(DRIVE, -1, 0.0, make_supply())


def test_drive_without_motor_surges_no_less_than_it_draws():
    assert surge_watts(make_drive(spin_up_a=0.0, idle_w=5.0)) == pytest.approx(3.0)


def test_machine_works_without_its_drives_while_they_start():
    loads = build_loads(make_brief(processor_watts=100.0, ssd_count=0), DRIVE, 8)
    assert rest_at_start(loads, 5.0) == pytest.approx(60.0 + 20.0 + 10.0 + 5.0)


@given(st.integers(1, 40), st.integers(1, 40), rests)
def test_peak_is_that_of_a_simulated_start(count, group_size, rest):
    assert peak_watts(DRIVE, count, group_size, rest) == pytest.approx(
        peak_by_simulation(DRIVE, count, group_size, rest)
    )


@given(counts, rests, ratings)
def test_possible_plan_stays_within_the_rating_and_starts_all(count, rest, rating):
    plan = spin_up_plan(DRIVE, count, rest, make_supply(rating_12v_w=rating))
    assert plan.possible == (plan.peak_w_12v <= rating)
    assert plan.group_size * max(plan.groups - 1, 0) < max(count, 1) <= max(plan.group_size * plan.groups, 1)


@given(st.integers(1, 40), rests, ratings)
def test_no_other_group_size_starts_sooner(count, rest, rating):
    plan = spin_up_plan(DRIVE, count, rest, make_supply(rating_12v_w=rating))
    fitting = [size for size in range(1, count + 1) if peak_by_simulation(DRIVE, count, size, rest) <= rating]
    assert plan.possible == bool(fitting)
    assert not fitting or plan.groups == -(-count // max(fitting))
