"""What a hopeless block costs: answers stay short, whatever is sent."""

import pytest

from catalog.formats import FILES
from catalog.importing.notes import MOST_HINTS, MOST_NOTES
from catalog.importing.parsing import MOST_CHILDREN, MOST_REFUSALS, MOST_UNKNOWN, BlockParser
from catalog.importing.refusals import Place


def _refusals(kind, block):
    parser = BlockParser(FILES[kind], Place("here"))
    parser.parse(block)
    return parser.refusals


def test_too_many_openings_are_one_refusal():
    said = [str(r) for r in _refusals("enclosures", {"openings": [{}] * 10_000}) if r.field == "openings"]
    assert len(said) == 1 and said[0].endswith(f"has 10000 blocks; accepted: up to {MOST_CHILDREN} blocks")


def test_bad_openings_are_read_until_enough_is_said():
    found = _refusals("enclosures", {"openings": [{}] * MOST_CHILDREN})
    assert MOST_REFUSALS < len(found) < 2 * MOST_REFUSALS
    assert any("is not read beyond block" in str(r) for r in found)


def test_many_unknown_keys_are_counted():
    found = _refusals("fans", {f"x{number}": 1 for number in range(5000)})
    assert len([r for r in found if r.reason == "is not a known key"]) == MOST_UNKNOWN
    assert any(f"has {5000 - MOST_UNKNOWN} more keys that are not known" in str(r) for r in found)


@pytest.mark.parametrize("key", ["sources", "uncertainty"])
def test_many_notes_are_one_refusal(key):
    found = _refusals("fans", {key: {f"x{number}": 1 for number in range(MOST_NOTES + 1)}})
    assert [r.reason for r in found if r.field.startswith(key)] == [f"has {MOST_NOTES + 1} figures"]


def test_only_the_first_wrong_notes_get_a_hint():
    found = _refusals("enclosures", {"sources": {f"pric{number}": "x" for number in range(MOST_NOTES)}})
    hints = [r for r in found if r.field.startswith("sources.") and "did you mean" in r.accepted]
    assert 0 < len(hints) <= MOST_HINTS
