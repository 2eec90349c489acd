"""Where drives go, and which adapters that takes."""

from collections import Counter
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.storage.bays import BayFill, BayPlan, BayShortfall, plan_bays
from tests.engine.make_parts import make_adapter, make_enclosure, make_group

FIVE = make_adapter()
SINGLE = make_adapter(code="single", bays=1, drives=1, price=7.0)
THREE = make_adapter(code="three", bays=2, drives=3, price=45.0, hot_swap=True)
PAIR = make_adapter(code="pair", from_form="3.5", bays=1, to_form="2.5", drives=2, price=12.0)
ADAPTERS = (FIVE, SINGLE, THREE, PAIR)

groups = st.lists(st.tuples(st.sampled_from(["3.5", "2.5", "5.25"]), st.integers(0, 6), st.booleans()), max_size=3).map(
    lambda rows: tuple(make_group(f"g{n}", form, count, hot_swap=hot) for n, (form, count, hot) in enumerate(rows))
)
adapter_sets = st.lists(st.sampled_from(ADAPTERS), unique=True)


def box(*bay_groups):
    return make_enclosure(bay_groups=bay_groups)


def test_groups_fill_in_listed_order():
    plan = plan_bays(box(make_group("upper", count=3), make_group("lower", count=4)), "3.5", 5)
    assert plan.fills == (BayFill("upper", 3, "", 0, 0, 0), BayFill("lower", 2, "", 0, 2, 2))


def test_five_drives_stand_in_three_large_bays():
    plan = plan_bays(box(make_group("top", "5.25", 4)), "3.5", 5, adapters=[FIVE])
    assert plan.fills == (BayFill("top", 0, "", 0, 1, 0), BayFill("top", 5, "five", 1, 0, 0))
    assert plan.adapters == (("five", 1),)


def test_spare_bays_may_force_an_adapter():
    enclosure = box(make_group("cage", count=4), make_group("top", "5.25", 2))
    assert plan_bays(enclosure, "3.5", 4, adapters=ADAPTERS).adapters == ()
    plan = plan_bays(enclosure, "3.5", 4, spare_bays=1, adapters=ADAPTERS)
    assert (plan.adapters, plan.free_places) == ((("single", 1),), 1)


def test_small_drives_lie_in_large_bays_one_each():
    plan = plan_bays(box(make_group("cage", "3.5", 2), make_group("sleds", "2.5", 2)), "2.5", 3)
    assert [(fill.group, fill.drives) for fill in plan.fills] == [("cage", 2), ("sleds", 1)]


def test_large_drives_do_not_lie_in_small_or_bare_large_bays():
    enclosure = box(make_group("sleds", "2.5", 4), make_group("top", "5.25", 4))
    assert plan_bays(enclosure, "3.5", 1) == BayShortfall(needed=1, places=0)


def test_adapter_that_replaces_a_tray_gains_only_the_difference():
    plan = plan_bays(box(make_group("cage", "3.5", 3)), "2.5", 5, adapters=[PAIR])
    assert plan.fills == (BayFill("cage", 1, "", 0, 0, 0), BayFill("cage", 4, "pair", 2, 0, 0))


def test_hot_swap_counts_only_such_places():
    enclosure = box(
        make_group("cage", count=2, hot_swap=True), make_group("floor", count=4), make_group("top", "5.25", 2)
    )
    plan = plan_bays(enclosure, "3.5", 4, hot_swap=True, adapters=ADAPTERS)
    assert [(fill.group, fill.adapter, fill.drives) for fill in plan.fills if fill.drives] == [
        ("cage", "", 2),
        ("top", "three", 2),
    ]
    assert plan_bays(enclosure, "3.5", 6, hot_swap=True, adapters=ADAPTERS).missing == 1


def test_equal_adapters_fall_to_price_then_code():
    cheap, dear = make_adapter(code="z", price=50.0), make_adapter(code="a", price=51.0)
    twin = make_adapter(code="y", price=50.0)
    plan = plan_bays(box(make_group("top", "5.25", 3)), "3.5", 4, adapters=[dear, cheap, twin])
    assert plan.adapters == (("y", 1),)


def test_adapter_goes_into_the_first_group_that_takes_it():
    plan = plan_bays(box(make_group("low", "5.25", 3), make_group("high", "5.25", 3)), "3.5", 5, adapters=[FIVE])
    assert [(fill.group, fill.drives) for fill in plan.fills] == [("low", 5), ("high", 0)]


def test_shortfall_counts_the_most_places():
    enclosure = box(make_group("cage", count=4), make_group("top", "5.25", 4))
    assert plan_bays(enclosure, "3.5", 10, spare_bays=2, adapters=ADAPTERS) == BayShortfall(needed=12, places=10)


def test_adapter_beyond_geometry_is_refused():
    with pytest.raises(InputError, match="claims 6 drives of 3.5 inch in 3 bays of 5.25 inch; 1 to 5 fit"):
        plan_bays(box(make_group("top", "5.25", 3)), "3.5", 6, adapters=[make_adapter(drives=6)])


def ways_to_equip(group, form, hot_swap, adapters):
    """List (adapters, places) for every set of adapters that goes into a group."""
    offers = [a for a in adapters if a.from_form == group.form and a.to_form == form and (a.hot_swap or not hot_swap)]
    bare_forms = {"3.5": ["3.5"], "2.5": ["2.5", "3.5"]}[form]
    bare = group.form in bare_forms and (group.hot_swap or not hot_swap)
    for size in range(group.count + 1):
        for parts in combinations_with_replacement(offers, size):
            left = group.count - sum(part.bays for part in parts)
            if left >= 0:
                yield parts, sum(part.drives for part in parts) + (left if bare else 0)


def best_by_trying_all(bay_groups, form, needed, hot_swap, adapters):
    """Return the sorted codes of the best set of adapters, or None."""
    found = []
    for ways in product(*(list(ways_to_equip(group, form, hot_swap, adapters)) for group in bay_groups)):
        parts = [part for chosen, _ in ways for part in chosen]
        if sum(places for _, places in ways) >= needed:
            found.append((len(parts), round(sum(part.price for part in parts), 6), sorted(part.code for part in parts)))
    return min(found)[2] if found else None


@given(groups, st.sampled_from(["3.5", "2.5"]), st.integers(0, 14), st.integers(0, 3), st.booleans(), adapter_sets)
def test_adapters_are_those_of_trying_all(bay_groups, form, drives, spare, hot_swap, adapters):
    plan = plan_bays(box(*bay_groups), form, drives, spare, hot_swap, adapters)
    best = best_by_trying_all(bay_groups, form, drives + spare, hot_swap, adapters)
    if best is None:
        assert isinstance(plan, BayShortfall)
    else:
        assert sorted(Counter(dict(plan.adapters)).elements()) == best


@given(groups, st.sampled_from(["3.5", "2.5"]), st.integers(0, 20), st.integers(0, 3), st.booleans(), adapter_sets)
def test_no_drive_is_lost_and_no_bay_used_twice(bay_groups, form, drives, spare, hot_swap, adapters):
    plan = plan_bays(box(*bay_groups), form, drives, spare, hot_swap, adapters)
    if isinstance(plan, BayShortfall):
        assert plan.places < drives + spare
        return
    assert sum(fill.drives for fill in plan.fills) == drives
    assert plan.free_places >= spare
    bays = {one.code: one.bays for one in adapters}
    for group in bay_groups:
        fills = [fill for fill in plan.fills if fill.group == group.code]
        taken = sum(fill.adapter_count * bays[fill.adapter] if fill.adapter else fill.drives for fill in fills)
        assert taken + sum(fill.free_bays for fill in fills) == group.count


@given(groups, st.integers(0, 12), adapter_sets)
def test_plan_does_not_depend_on_the_order_of_adapters(bay_groups, drives, adapters):
    enclosure = box(*bay_groups)
    assert plan_bays(enclosure, "3.5", drives, adapters=adapters) == plan_bays(
        enclosure, "3.5", drives, adapters=adapters[::-1]
    )


@given(groups, st.integers(0, 12), adapter_sets)
def test_fewer_drives_fit_wherever_more_do(bay_groups, drives, adapters):
    enclosure = box(*bay_groups)
    if isinstance(plan_bays(enclosure, "3.5", drives + 1, adapters=adapters), BayPlan):
        assert isinstance(plan_bays(enclosure, "3.5", drives, adapters=adapters), BayPlan)
