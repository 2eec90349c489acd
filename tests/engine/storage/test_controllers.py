"""Which storage controllers the drives force."""

from itertools import combinations_with_replacement

from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.storage.controllers import choose_controllers, most_ports
from tests.engine.make_parts import make_controller

offers = st.lists(
    st.tuples(st.sampled_from([0, 2, 4, 8, 16]), st.integers(0, 2), st.sampled_from([20.0, 40.1, 40.1, 95.5])),
    max_size=4,
).map(
    lambda rows: [
        make_controller(code=f"k{number}", ports=ports, slots=slots, price=price)
        for number, (ports, slots, price) in enumerate(rows)
    ]
)


def best_by_trying_all(needed, board_ports, controllers, slots):
    for count in range(slots + 1):
        sets = [
            parts
            for parts in combinations_with_replacement(controllers, count)
            if sum(max(part.slots, 1) for part in parts) <= slots
            and board_ports + sum(part.ports for part in parts) >= needed
        ]
        if sets:
            return min(sets, key=lambda parts: (round(sum(p.price for p in parts), 6), [p.code for p in parts]))
    return None


@given(st.integers(0, 40), st.integers(0, 8), offers, st.integers(0, 4))
def test_choice_is_that_of_trying_all(needed, board_ports, controllers, slots):
    assert choose_controllers(needed, board_ports, controllers, slots) == best_by_trying_all(
        needed, board_ports, controllers, slots
    )


@given(offers, st.integers(0, 4))
def test_most_ports_are_the_last_that_can_be_had(controllers, slots):
    most = most_ports(controllers, slots)
    assert choose_controllers(most, 0, controllers, slots) is not None
    assert choose_controllers(most + 1, 0, controllers, slots) is None


def test_ports_of_the_board_come_first():
    assert choose_controllers(6, 6, [make_controller()], 0) == ()


def test_one_large_controller_beats_two_cheap_ones():
    small = make_controller(code="a", ports=4, price=10.0)
    large = make_controller(code="b", ports=8, price=90.0)
    assert choose_controllers(8, 0, [small, large], 2) == (large,)


def test_negative_slots_leave_no_room():
    assert choose_controllers(8, 4, [make_controller()], -2) is None
