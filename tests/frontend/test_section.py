"""Every demo enclosure is cut into zones that fill it, each around its own middle."""

import pytest

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.section import ABOVE, FRONT, SIDE, VIEWS, best_view, zone_boxes
from tests.frontend.making import box, housing, sheets

ENCLOSURES = {block["code"]: block for block in sheets()}


@pytest.fixture(params=sorted(ENCLOSURES))
def enclosure(request):
    return housing(ENCLOSURES[request.param])


def test_zones_fill_the_section_and_do_not_overlap(enclosure):
    for view in VIEWS:
        found = list(zone_boxes(enclosure, view, 0.01).values())
        across, down = view.lengths(enclosure.size)
        assert sum(one.w * one.h for one in found) == pytest.approx(across * down)
        assert not any(a.grown(-1e-6).overlaps(b) for n, a in enumerate(found) for b in found[:n])


def test_every_zone_is_around_its_own_middle(enclosure):
    view = best_view(enclosure)
    found = zone_boxes(enclosure, view)
    for zone in enclosure.zones:
        u, v = view.project(zone.position, enclosure.size)
        place = found[zone.code]
        assert place.x - 1e-6 <= u <= place.right + 1e-6
        assert place.y - 1e-6 <= v <= place.bottom + 1e-6


def test_air_goes_between_zones_that_touch(enclosure):
    """In the view that is chosen, nearly all ways between zones lead through a wall of both."""
    found = zone_boxes(enclosure, best_view(enclosure))
    inner = [one for one in enclosure.openings if OUTSIDE not in (one.from_zone, one.to_zone)]
    touching = [one for one in inner if found[one.from_zone].grown(1e-6).overlaps(found[one.to_zone])]
    assert len(touching) >= len(inner) - 1


def test_no_zone_is_thinner_than_asked(enclosure):
    for place in zone_boxes(enclosure, best_view(enclosure), 0.02).values():
        assert min(place.w, place.h) > 0.0199


def test_towers_are_seen_from_the_side_and_flat_ones_from_above():
    assert best_view(box()) is SIDE
    assert best_view(housing(ENCLOSURES["rushgate-4u-24"])) is ABOVE
    assert best_view(housing(ENCLOSURES["omberdale-slice"])) is FRONT


def test_a_passage_lies_in_the_wall_that_it_leads_through():
    found = zone_boxes(box(), SIDE)
    assert found["nose"].right == pytest.approx(0.15) == pytest.approx(found["main"].x)


def test_zones_in_one_place_share_it():
    one = box()
    same = tuple(type(zone)(zone.code, (0.1, 0.2, 0.2)) for zone in one.zones)
    doubled = type(one)(one.code, one.name, one.size, same, one.openings, one.bays, one.seats)
    found = zone_boxes(doubled, SIDE, 0.02)
    assert all(min(place.w, place.h) >= 0.0199 for place in found.values())
