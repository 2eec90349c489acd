"""What a near miss is told to change lets it in."""

from dataclasses import replace

import pytest

from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.record.misses import shortfalls
from advisor.engine.search.score import score_enclosure
from tests.engine.make_parts import make_drive
from tests.engine.record import found

FIELDS = ("noise_target_dba", "limit_processor_c", "limit_graphics_c", "limit_drive_c")


def nearest(brief, parts):
    """The nearest miss of the first tower, described, with what it falls short of."""
    box = next(one for one in parts.enclosures if one.code == "mesh_tower")
    outcome = score_enclosure(brief, parts, box)
    if outcome.accepted:
        return outcome, None, ()
    one = outcome.nearest_miss.candidate
    build = build_of(brief, parts, one.enclosure, one.fans, one.cooler, one.supply, one.drive)
    record = describe(build, outcome.nearest_miss.rows, outcome.nearest_miss.steps, parts)
    return outcome, record, shortfalls(build, record)


def told(text, field):
    """The value that a sentence tells to raise a field to."""
    return float(text.split(f"raise {field} from ")[1].split(" to ")[1].split(",")[0])


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("noise_target_dba", 24.0, "noise"),
        ("limit_processor_c", 60.0, "processor_limit"),
        ("limit_graphics_c", 60.0, "graphics_limit"),
        ("limit_drive_c", 45.0, "drive_limit"),
    ],
)
def test_limits_raised_as_told_let_a_build_in(field, value, code):
    brief, parts = found.brief(**{field: value}, card_count=0, ssd_count=0), found.catalogue()
    _, _, missed = nearest(brief, parts)
    assert code in [one.code for one in missed]
    raised = {name: told(one.text, name) for one in missed for name in FIELDS if f"raise {name} from" in one.text}
    assert field in raised and len(raised) == len(missed)
    assert nearest(replace(brief, **raised), parts)[0].accepted


def test_miss_is_as_large_as_the_search_says():
    outcome, _, missed = nearest(found.brief(limit_processor_c=60.0), found.catalogue())
    # misses compare as multiples of 5 K
    assert missed[0].amount / 5.0 == pytest.approx(outcome.nearest_miss.miss, abs=1e-9)


def test_budget_is_told_with_both_prices():
    brief = found.brief(budget=500.0)
    _, record, missed = nearest(brief, found.catalogue())
    assert missed[0].code == "over_budget"
    assert missed[0].amount == pytest.approx(record.price - 500.0)
    enough = float(missed[0].text.split("raise budget to ")[1].rstrip("."))
    assert nearest(replace(brief, budget=enough), found.catalogue())[0].accepted


def test_a_limit_of_the_part_itself_is_not_to_be_raised():
    tender = replace(found.catalogue(), drives=(make_drive(limit_c=45.0),))
    _, _, missed = nearest(found.brief(), tender)
    (said,) = [one for one in missed if one.code == "drive_limit"]
    assert "take a part that stands" in said.text and "raise" not in said.text


def test_accepted_build_falls_short_of_nothing():
    assert shortfalls(found.best()[1], found.record()) == ()
