"""Counts of candidates that do not fit, without walking them, and what is left to be judged."""

import numpy as np
import pytest

from advisor.engine.case.named import named_parts
from advisor.engine.inputs import Catalogue
from advisor.engine.search.fitting import count_misfits, fitted_cases, part_misfits
from advisor.engine.search.score import score_enclosure
from advisor.engine.search.space import space_of
from tests.engine import boxes
from tests.engine.make_parts import make_adapter, make_brief, make_controller, make_cooler, make_drive, make_supply
from tests.engine.search.brute_force import judge_all
from tests.engine.search.test_space import FANS

PARTS = Catalogue(
    fans=FANS,
    coolers=(
        make_cooler(code="fits"),
        make_cooler(code="tall", height_m=0.17),
        make_cooler(code="other", sockets=("S2",)),
    ),
    supplies=(make_supply(code="fits"), make_supply(code="long", length_m=0.2)),
    drives=(make_drive(code="many"), make_drive(code="single", max_per_box=1)),
    adapters=(make_adapter(),),
    controllers=(make_controller(),),
)
SETS = 6  # of fans in the tower


def searched(brief, parts=PARTS, box=None):
    """Space, misfits and fitted cases of one enclosure."""
    box = box or boxes.open_tower()
    space, named = space_of(brief, parts, box), named_parts(brief, parts)
    found = part_misfits(brief, parts, space, named)
    return space, found, fitted_cases(brief, parts, space, named, found)


def counted(brief, box=None):
    space, found, _ = searched(brief, box=box)
    return dict(count_misfits(space, found))


def test_each_candidate_is_counted_once_under_its_first_misfit():
    found = counted(make_brief(drive_count=2, processor_socket="S1"))
    assert found == {
        "drives_per_box": SETS * 3 * 2,  # one of two drives, whatever goes with it
        "cooler_height": SETS * 2,
        "cooler_socket": SETS * 2,
        "supply_length": SETS,
    }


def test_enclosure_that_does_not_fit_takes_all_with_it():
    assert counted(make_brief(drive_count=2, max_width_m=0.1)) == {"too_wide": SETS * 3 * 2 * 2}


def test_enclosure_is_judged_before_drives():
    assert counted(make_brief(drive_count=9, max_depth_m=0.1, processor_socket="S3")) == {"too_deep": SETS * 12}


def test_space_without_candidates_counts_none():
    assert counted(make_brief(required_parts=("a140",), max_width_m=0.1)) == {}


def test_everything_that_fits_is_counted_nowhere():
    space, found, _ = searched(make_brief(drive_count=1))
    assert count_misfits(space, found) == {"cooler_height": SETS * 4, "supply_length": SETS * 2 * 2}


@pytest.mark.parametrize(
    "changes",
    [
        {"drive_count": 2, "processor_socket": "S1"},
        {"drive_count": 9},
        {"drive_count": 4, "hot_swap": True},
        {"drive_count": None, "usable_capacity_tb": 12.0, "layout": "mirror"},
        {"drive_count": 1, "orientation": "inverted"},
        {"drive_count": 2, "ssd_count": 30},
        {"drive_count": 0, "card_count": 9},
        {"drive_count": 1, "processor_watts": 900.0},
    ],
)
@pytest.mark.parametrize("make_box", boxes.BOXES)
def test_counts_are_those_of_single_builds(changes, make_box):
    brief, box = make_brief(**{"budget": 1.0, **changes}), make_box()
    plain, found = judge_all(brief, PARTS, box), score_enclosure(brief, PARTS, box)
    assert dict(found.rejected) == plain.rejected
    assert found.considered == plain.considered == sum(found.rejected.values())


def test_drives_of_other_capacity_make_cases_of_their_own():
    drives = (make_drive(code="large", capacity_tb=12.0), make_drive(code="small", capacity_tb=4.0))
    brief = make_brief(drive_count=None, usable_capacity_tb=12.0)
    _, _, cases = searched(brief, Catalogue(fans=FANS, coolers=PARTS.coolers, supplies=PARTS.supplies, drives=drives))
    assert [(one.case.drive_count, one.drive.tolist(), one.supply.tolist()) for one in cases] == [
        (1, [0], [0]),
        (3, [1], [0]),
    ]


def test_drives_of_a_class_share_their_air():
    drives = tuple(make_drive(code=f"d{k}", idle_w=idle, seek_w=8.0) for k, idle in enumerate((3.9, 4.1, 6.1)))
    _, _, (one,) = searched(
        make_brief(), Catalogue(fans=FANS, coolers=PARTS.coolers, supplies=PARTS.supplies, drives=drives)
    )
    assert one.air_of[0] == one.air_of[1] != one.air_of[2]
    assert len(one.airs) == 2


def test_overloaded_supplies_are_left_out_and_told():
    weak = make_supply(code="weak", rating_w=100.0, rating_12v_w=95.0)
    parts = Catalogue(fans=FANS, coolers=PARTS.coolers, supplies=(make_supply(), weak), drives=PARTS.drives[:1])
    _, _, (one,) = searched(make_brief(processor_watts=95.0, drive_count=2), parts)
    assert one.supply.tolist() == [0]
    ((drive, supply, spare, spare_12v, _),) = one.overloaded
    assert (drive, supply) == (0, 1)
    assert spare < 0 and spare_12v < 0


def test_what_a_supply_has_left_is_nine_tenths_less_the_peak():
    _, _, (one,) = searched(make_brief(drive_count=2), PARTS)
    # 65 W processor, 20 W board, 10 W memory, 5 W solid-state drive, two drives at 8 W of which 0.6 at 12 V
    assert one.spare_w == pytest.approx(450.0 - 116.0)
    assert one.spare_12v_w == pytest.approx(432.0 - 95.0 - 2 * 8.0 * 0.6)
    # at start, one of two after the other: 24 W beside one that turns, processor at 60 %
    assert one.surge_w == pytest.approx(480.0 - (39.0 + 30.0) - (24.0 + 5.0 * 0.6))


def test_price_of_drives_and_of_what_they_force():
    _, _, (one,) = searched(make_brief(drive_count=5), PARTS, boxes.two_size_tower())
    # two trays and three of the adapter's five places
    assert one.case.bays.adapters == (("five", 1),)
    assert one.fixed_price == pytest.approx(100.0 + 60.0)
    assert np.unique(one.drive_price) == pytest.approx([5 * 180.0])


def test_nothing_is_left_where_a_kind_has_no_part_that_fits():
    assert searched(make_brief(drive_count=9))[2] == []
    assert searched(make_brief(drive_count=1, max_width_m=0.1))[2] == []
