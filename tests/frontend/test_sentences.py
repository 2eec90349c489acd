"""Sentences of a record in plain words, and pages that are kept."""

import pytest

from frontend.contexts.answers import part_address
from frontend.contexts.entries import ties_words
from frontend.contexts.sentences import Speech, speech_of
from frontend.kept import Kept, Written
from tests.frontend.making import build

SPEECH = Speech({"fan-1": "Great Fan", "own-abc-box": "Mine"}, frozenset({"front_525"}))


@pytest.mark.parametrize(
    ("sentence", "said"),
    [
        ("quieten fan-1 in hot_day.", "quieten \u2068Great Fan\u2069 on a hot day."),
        ("the hottest drive of front_525 in full_load", "the hottest drive of front 5.25-inch bays at full load"),
        ("raise noise_target_dba from 33 to 35.5", "raise “Noise at the seat” from 33 to 35.5"),
        ("in full_load and hot_day (-1.57 g/s)", "in full load and hot day (\u22121.57\u202fg/s)"),
        ("fan-12 and my-fan-1 stay", "fan-12 and my-fan-1 stay"),
        ("Loudest in working: own-abc-box", "Loudest when working: \u2068Mine\u2069"),
        ("budget and drives are words", "budget and drives are words"),
        ("takes boards of the forms mini_itx", "takes boards of the forms Mini-ITX"),
    ],
)
def test_codes_are_said_in_plain_words(sentence, said):
    assert SPEECH.say(sentence) == said


def test_speech_knows_parts_and_bays_of_its_builds():
    speech = speech_of([build("Wide Box")])
    assert speech.say("box holds cage_35") == "\u2068Wide Box\u2069 holds cage 3.5-inch bays"


@pytest.mark.parametrize(
    ("names", "of", "said"),
    [
        ("AB", 4, "Not told apart from A and B."),
        ("ABCDE", 9, "Not told apart from A, B, C, D and E."),
        ("ABCDEF", 9, "Not told apart from A, B, C, D and 2 more."),
        ("ABC", 4, "Not told apart from any of the other 3 entries."),
    ],
)
def test_ties_are_counted_where_they_are_many(names, of, said):
    assert ties_words(list(names), of) == said


@pytest.mark.parametrize("code", ["assumed_ssd", "default_atx", "no such/code"])
def test_stand_ins_have_no_page(code):
    assert part_address("ssd", code) == ""


def test_part_leads_to_the_catalogue():
    assert part_address("intake_fan", "fan-1") == "/catalogue/fans/fan-1/"
    assert part_address("supply", "pack-2") == "/catalogue/power-supplies/pack-2/"


def test_pages_are_written_once_and_the_oldest_go():
    kept, written = Kept(most=2), []

    def write(key):
        return kept.page(key, lambda: written.append(key) or Written(key, key))

    for key in "aabcab":
        assert write(key).title == key
    assert "".join(written) == "abcab"


def test_what_cannot_be_written_is_not_kept():
    kept = Kept()
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            kept.page("a", lambda: 1 // 0)
    assert kept.page("a", lambda: Written("now", "")).title == "now"
