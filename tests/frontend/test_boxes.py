"""Places are free, within their room, and the nearest there are."""

from hypothesis import given
from hypothesis import strategies as st

from frontend.pictures.boxes import Box, around, free_place, shortened, spread, text_width

ROOM = Box(0.0, 0.0, 120.0, 80.0)
boxes = st.builds(Box, st.floats(-20, 120), st.floats(-20, 80), st.floats(1, 60), st.floats(1, 40))
lengths = st.lists(st.tuples(st.floats(0, 200), st.floats(5, 30)), min_size=1, max_size=8)


@given(st.lists(boxes, max_size=8), st.floats(0, 120), st.floats(0, 80))
def test_a_place_touches_nothing_and_stays_in_its_room(taken, x, y):
    place = free_place((30.0, 14.0), (x, y), ROOM, taken, gap=1.0)
    if place is not None:
        assert place.inside(ROOM)
        assert not any(place.overlaps(other, 0.99) for other in taken)


@given(st.lists(boxes, max_size=4), st.floats(0, 120), st.floats(0, 80))
def test_no_free_place_of_the_grid_is_nearer(taken, x, y):
    def away(place):
        return (place.middle[0] - x) ** 2 + (place.middle[1] - y) ** 2

    grid = [Box(i * 4.0, j * 4.0, 30.0, 14.0) for i in range(23) for j in range(17)]
    free = [one for one in grid if not any(one.overlaps(other) for other in taken)]
    place = free_place((30.0, 14.0), (x, y), ROOM, taken)
    assert (place is None) == (not free)
    if place:
        assert away(place) <= min(map(away, free)) + 0.01


def test_what_does_not_fit_has_no_place():
    assert free_place((130.0, 10.0), (0, 0), ROOM, []) is None
    assert free_place((10.0, 10.0), (0, 0), ROOM, [ROOM]) is None


@given(lengths)
def test_spread_keeps_the_order_and_gives_each_its_length(pairs):
    wanted, sizes = [one for one, _ in pairs], [size for _, size in pairs]
    found = spread(wanted, sizes, 0.0, 1000.0)
    order = sorted(range(len(pairs)), key=lambda k: (wanted[k], k))
    for a, b in zip(order, order[1:], strict=False):
        assert found[b] - found[a] >= (sizes[a] + sizes[b]) / 2 - 1e-6


@given(lengths)
def test_spread_leaves_alone_what_has_room(pairs):
    wanted = [100.0 + 40.0 * n for n in range(len(pairs))]
    assert spread(wanted, [size for _, size in pairs], 0.0, 1000.0) == wanted


def test_a_shortened_text_fits():
    text = shortened("a name that is far too long for its place", 12.0, 80.0)
    assert text.endswith("…") and text_width(text, 12.0) <= 80.0


def test_boxes_that_only_touch_do_not_overlap():
    assert not Box(0, 0, 10, 10).overlaps(Box(10, 0, 10, 10))
    assert Box(0, 0, 10, 10).overlaps(around(10, 10, 4, 4))
