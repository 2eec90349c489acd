"""What a near miss is told to change lets it in."""

import re
from dataclasses import replace

import pytest

from advisor.engine.fit import ORDER
from advisor.engine.inputs import Board
from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.record.misses import shortfalls
from advisor.engine.record.records import ROLE_WORDS
from advisor.engine.search.score import score_enclosure
from advisor.reports import miss_entry
from advisor.reports.terminal import REASONS
from tests.engine import builds
from tests.engine.make_parts import make_controller, make_drive
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


SMALL_BOARD = Board("few_ports", "Few ports", "atx", 20.0, 1, 2, 7)
PARTS_OF = {
    "ssd_limit": {"ssds": (replace(builds.SSD, limit_c=30.0),)},
    "card_limit": {"cards": (replace(builds.CARD, limit_c=30.0),)},
    "controller_limit": {
        "boards": (SMALL_BOARD,),
        "controllers": (make_controller(limit_c=30.0, ports=8),),
    },
}


@pytest.mark.parametrize("code", PARTS_OF)
def test_part_that_stands_too_little_is_told_what_it_must_stand(code):
    required = ({"ssd_limit": "ssd", "card_limit": "card", "controller_limit": "few_ports"}[code],)
    parts = replace(found.catalogue(), **PARTS_OF[code])
    _, record, missed = nearest(found.brief(required_parts=required), parts)
    (said,) = [one for one in missed if one.code == code]
    role = code.removesuffix("_limit")
    part = max((one.warmest(role) for one in record.predictions.values()), key=lambda one: one.temperature_c.value)
    needed = float(re.search(r"take a part that stands ([\d.]+) °C", said.text)[1])
    assert said.text.startswith(f"{ROLE_WORDS[role].capitalize()} reaches {part.temperature_c.value:.1f} ±")
    stronger = {
        kind: tuple(replace(one, limit_c=needed) for one in listed) if kind != "boards" else listed
        for kind, listed in PARTS_OF[code].items()
    }
    again = nearest(found.brief(required_parts=required), replace(found.catalogue(), **stronger))
    assert code not in [one.code for one in again[2]]


def test_every_requirement_judged_at_a_setting_has_a_sentence():
    told_of = {"over_budget", "noise", *PARTS_OF, "processor_limit", "graphics_limit", "drive_limit"}
    assert told_of | {"no_common_setting"} == set(ORDER[ORDER.index("over_budget") :])
    assert set(REASONS) == set(ORDER)


def test_requirements_that_exclude_each_other_are_told_with_what_is_missed():
    outcome, record, missed = nearest(found.brief(limit_processor_c=60.0), found.catalogue())
    entry = miss_entry(replace(outcome.nearest_miss, code="no_common_setting"), record, missed)
    assert entry["text"].startswith("Each requirement is kept at some setting of its fans, but none keeps all")
    assert "raise limit_processor_c from 60 to" in entry["text"] and "°C" in entry["text"]
