"""The part of YAML that catalogue files need."""

import datetime
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.importing.plain_yaml import YamlError, read_items


def test_words_become_what_they_look_like():
    text = "- {a: 12, b: -0.5, c: 1e-15, d: .5, e: true, f: null, g: 2031-05-17, h: word, i: '12', j: }"
    day = datetime.date(2031, 5, 17)
    expected = {
        "a": 12,
        "b": -0.5,
        "c": 1e-15,
        "d": 0.5,
        "e": True,
        "f": None,
        "g": day,
        "h": "word",
        "i": "12",
        "j": None,
    }
    assert read_items(text) == [(1, expected)]


@pytest.mark.parametrize("word", ["yes", "on", "12:30", "1_000", "0x10", "1,5"])
def test_words_with_a_second_meaning_stay_words(word):
    assert read_items(f"- [{word!r}]".replace("'", "")) == [(1, [word] if "," not in word else [1, 5])]


def test_items_know_their_lines():
    assert [line for line, _ in read_items("# note\n- a: 1\n\n- b: 2\n")] == [2, 4]


def test_an_empty_text_has_no_items():
    assert read_items("# nothing yet\n") == []


def test_infinite_and_missing_numbers_are_read_as_such():
    ((_, values),) = read_items("- [.inf, -.inf, .nan, 1e999]")
    assert values[0] == values[3] == math.inf
    assert math.isnan(values[2])


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a: 1", "line 1: is not a list"),
        ("- a: 1\n  a: 2", "line 2: key 'a' is given twice"),
        ("- &x [1]\n- *x", "line 1: is used again by an alias"),
        ("- !!python/object:os.system x", "line 1: tag 'tag:yaml.org,2002:python/object:os.system' is not accepted"),
        ("- a: [1,\n- b", "line 2: is not YAML"),
        ("- a: 'open", "line 1: is not YAML"),
        ("- a\n---\n- b", "line 2: is not YAML"),
        ("- \x07", "line 1: control character 0x7"),
        ("- 2031-02-30", "line 1: date 2031-02-30 does not exist"),
        ("- {[1]: 2}", "line 1: a key must be a word"),
        ("[" * 100_000, "line 1: is not YAML: exceeded maximum nesting depth"),
        ("- " * 100_000, "line 1: is not YAML: exceeded maximum nesting depth"),
    ],
)
def test_what_would_mislead_is_refused_with_its_line(text, message):
    with pytest.raises(YamlError, match="^" + message.replace("[", r"\[")):
        read_items(text)


def test_an_alias_bomb_is_refused_at_once():
    levels = [f"- &l{n} [{', '.join([f'*l{n - 1}'] * 9)}]" for n in range(1, 40)]
    with pytest.raises(YamlError, match="alias"):
        read_items("\n".join(["- &l0 [x]", *levels]))


@given(st.text(max_size=200))
def test_any_text_gives_items_or_a_yaml_error(text):
    try:
        items = read_items(text)
    except YamlError as error:
        assert str(error)
    else:
        assert isinstance(items, list)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_double_reads_back_exactly(number):
    assert read_items(f"- {number!r}") == [(1, number)]
