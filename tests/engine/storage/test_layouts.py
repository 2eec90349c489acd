"""How much layouts hold and how many drives they take."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.storage.layouts import (
    LAYOUTS,
    MOST_DRIVES,
    drives_for,
    drives_needed,
    efficiency,
    failures_tolerated,
    layout,
    usable_capacity_tb,
    why_not,
)
from tests.engine.make_parts import make_brief, make_drive

codes = st.sampled_from(sorted(LAYOUTS))


@pytest.mark.parametrize(
    ("code", "drives", "usable", "tolerated"),
    [
        ("none", 5, 40.0, 0),
        ("stripe", 5, 40.0, 0),
        ("mirror", 3, 8.0, 2),
        ("stripe_of_mirrors", 6, 24.0, 1),
        ("single_parity", 6, 40.0, 1),
        ("double_parity", 6, 32.0, 2),
        ("triple_parity", 6, 24.0, 3),
    ],
)
def test_capacity_and_failures_of_each_layout(code, drives, usable, tolerated):
    assert usable_capacity_tb(code, drives, 8.0) == usable
    assert failures_tolerated(code, drives) == tolerated


def test_hot_spares_hold_nothing():
    assert usable_capacity_tb("single_parity", 6, 8.0, hot_spares=2) == 24.0
    assert efficiency("single_parity", 6, hot_spares=2) == 0.5


def test_machine_without_drives_holds_nothing():
    assert usable_capacity_tb("none", 0, 8.0) == 0.0
    assert efficiency("none", 0) == 0.0


@given(codes, st.integers(0, 40), st.integers(0, 3))
def test_capacity_never_falls_with_more_drives(code, drives, spares):
    sizes = [count for count in range(drives + 1) if not why_not(code, count, spares)]
    capacities = [usable_capacity_tb(code, count, 4.0, spares) for count in sizes]
    assert capacities == sorted(capacities)


@given(codes, st.floats(0.1, 900.0), st.floats(0.5, 30.0), st.integers(0, 3))
def test_needed_drives_are_the_fewest_that_hold_it(code, usable, capacity, spares):
    spares = spares if layout(code).redundant else 0
    fits = [
        count
        for count in range(1, MOST_DRIVES + 1)
        if not why_not(code, count, spares) and usable_capacity_tb(code, count, capacity, spares) >= usable * (1 - 1e-9)
    ]
    assert drives_needed(code, usable, capacity, spares) == (fits[0] if fits else None)


def test_exact_multiples_need_no_extra_drive():
    assert [drives_needed("double_parity", 0.3, 0.1), drives_needed("none", 2.1, 0.7)] == [5, 3]


def test_mirror_cannot_hold_more_than_one_drive():
    assert drives_needed("mirror", 8.0, 8.0) == 2
    assert drives_needed("mirror", 8.1, 8.0) is None


def test_more_drives_than_a_machine_takes_count_as_none():
    assert drives_needed("none", MOST_DRIVES * 2.0, 2.0) == MOST_DRIVES
    assert drives_needed("none", MOST_DRIVES * 2.0 + 0.1, 2.0) is None


@pytest.mark.parametrize(("usable", "capacity"), [(0.0, 8.0), (8.0, 0.0), (-1.0, 8.0)])
def test_capacities_must_be_above_zero(usable, capacity):
    with pytest.raises(InputError, match="both must be above 0"):
        drives_needed("none", usable, capacity)


def test_brief_with_a_count_gets_that_count():
    assert drives_for(make_brief(drive_count=7), make_drive()) == 7


def test_brief_with_a_capacity_gets_the_drives_for_it():
    brief = make_brief(drive_count=None, usable_capacity_tb=30.0, layout="double_parity", hot_spares=1)
    assert drives_for(brief, make_drive(capacity_tb=8.0)) == 7


def test_brief_with_neither_is_refused():
    with pytest.raises(InputError, match="neither drive_count nor usable_capacity_tb"):
        drives_for(make_brief(drive_count=None), make_drive())


def test_unknown_layout_is_refused_with_the_known_ones():
    with pytest.raises(InputError, match="layout 'raid' is not known; use one of none, stripe, mirror"):
        layout("raid")


def test_too_few_drives_are_refused():
    with pytest.raises(InputError, match="triple_parity needs at least 5; 4 are given"):
        usable_capacity_tb("triple_parity", 4, 8.0)
