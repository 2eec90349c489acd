"""What single values must look like."""

import math
from datetime import UTC, date, datetime

import pytest

from catalog import validators
from catalog.validators import Range

SPEED = Range("rpm", 10, 2000)
OPEN = Range("", 0, 1, low_open=True, high_open=True)


@pytest.mark.parametrize("value", [10, 2000, 10.0, 350.5])
def test_range_takes_numbers_and_its_ends(value):
    assert SPEED.check(value) == ""


@pytest.mark.parametrize("value", [9.999, 2001, -5, 10**400, 1e300])
def test_range_refuses_what_lies_outside(value):
    assert SPEED.check(value) == "is out of range"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_range_refuses_what_is_not_finite(value):
    assert SPEED.check(value) == "is not a finite number"


@pytest.mark.parametrize("value", [True, False, None, "abc", [120], {}])
def test_range_refuses_what_is_no_number(value):
    assert SPEED.check(value) == "is not a number"


@pytest.mark.parametrize("value", ["120", "1.5e3", "-3"])
def test_range_names_the_quotes_around_a_number(value):
    assert "remove the quotes" in SPEED.check(value)


@pytest.mark.parametrize("value", [0, 1])
def test_open_range_leaves_out_its_ends(value):
    assert OPEN.check(value) == "is out of range"
    assert OPEN.check(0.5) == ""


def test_range_reads_as_people_say_it():
    assert str(SPEED) == "from 10 to 2000 rpm"
    assert str(OPEN) == "above 0 and below 1"


def test_whole_number_may_end_in_point_nought():
    assert validators.check_whole(3.0, Range("", 0, 5)) == ""
    assert validators.check_whole(2.5, Range("", 0, 5)) == "is not a whole number"
    assert validators.check_whole(math.inf, Range("", 0, 5)) == "is not a finite number"


@pytest.mark.parametrize(
    ("value", "reason"),
    [
        ("a\nb", "contains control characters"),
        ("a\x85b", "contains control characters"),
        ("a\0b", "contains control characters"),
        ("a\u2028b", "contains control characters"),
        ("a\ud800b", "contains control characters"),
        ("a\u202eb", "contains marks that turn the direction of writing"),
        ("a\u2066b", "contains marks that turn the direction of writing"),
        ("", "is empty"),
        (" a", "begins or ends with a space"),
        ("a" * 11, "is 11 characters long"),
        (3.5, "is not text: put it in quotes"),
        (None, "is not text"),
    ],
)
def test_text_is_one_plain_line(value, reason):
    assert validators.check_text(value, 10, may_be_blank=False) == reason


@pytest.mark.parametrize("value", ["a b", "-a", "", "a" * 65, "ä", "a\n"])
def test_code_refuses_other_signs(value):
    assert validators.check_code(value) == "is not a code"


def test_choice_says_when_a_number_lacks_quotes():
    assert validators.check_choice(3.5, ["3.5", "2.5"]) == "is a number: put it in quotes"
    assert validators.check_choice("3.5", ["3.5", "2.5"]) == ""
    assert validators.check_choice("1.8", ["3.5", "2.5"]) == "is not known"


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        ([[0, 1], [1, 2], [1, 3]], "point 3 does not rise: 1 after 1"),
        ([[0, 1], [0.5, -1]], "point 2 second number is out of range"),
        ([[0, 1], [0.5]], "point 2 is not a pair of numbers"),
        ([[0, 1], ["x", 1]], "point 2 first number is not a number"),
        ([[0, 1]], "has 1 points"),
        ([[k, 1] for k in range(201)], "has 201 points"),
        ("points", "is not a list"),
    ],
)
def test_points_say_which_one_is_bad(points, reason):
    assert validators.check_points(points, 2, Range("", 0, 1000), Range("", 0, 10)) == reason


def test_points_may_dip():
    assert validators.check_points([[0, 9], [1, 7], [2, 8], [3, 0]], 2, Range("", 0, 9), Range("", 0, 9)) == ""


def test_words_come_once_each():
    assert validators.check_words(["a", "b"], 1, ["a", "b"]) == ""
    assert validators.check_words(["a", "a"], 1, ["a", "b"]) == "names one word twice"
    assert validators.check_words([], 1, ["a", "b"]) == "has 0 words"
    assert validators.check_words(["a", "c"], 1, ["a", "b"]) == "word 2 is not known"


@pytest.mark.parametrize("value", [date(2031, 5, 17), "2031-05-17", "2028-02-29"])
def test_a_day_is_a_date_or_text_of_its_form(value):
    assert validators.check_day(value) == ""


@pytest.mark.parametrize(
    ("value", "reason"),
    [
        ("2031-02-29", "does not exist"),
        ("2031-5-17", "is not a date"),
        ("٢٠٣١-٠٥-١٧", "is not a date"),
        (datetime(2031, 5, 17, tzinfo=UTC), "is not a date"),
        (20310517, "is not a date"),
        (None, "is not a date"),
    ],
)
def test_what_is_no_day_is_refused(value, reason):
    assert validators.check_day(value) == reason
