"""Bodies that are not JSON as we take it: refused with the place and the remedy, and quickly."""

import json
import time

import pytest

from api.errors import Unreadable
from api.parsers import MOST_DEPTH, read_json
from tests.api.test_root import problem_of

ACCOUNTS = "/api/v1/accounts/"


@pytest.mark.parametrize("text", ['{"a": 1}', "[]", "null", '"a"', "1.5e3", '{"a": {"a": [{}]}}', '"[[[[\\"{{"'])
def test_json_is_read(text):
    assert read_json(text) == json.loads(text)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "not JSON"),
        ("{", "line 1"),
        ('{"a": 1,}', "column 9"),
        ("{'a': 1}", "not JSON"),
        ('{"a": 1} {"b": 2}', "Extra data"),
        ('{"a": 1, "a": 2}', "'a' twice"),
        ('[{"b": {"c": 0, "c": 0}}]', "'c' twice"),
        ('{"a": NaN}', "NaN"),
        ('{"a": -Infinity}', "-Infinity"),
        ('{"a": 1e999}', "too large"),
        ("9" * 5000, "thousands of digits"),
        ('{"a": "\\u0000"}', "NUL"),
        ('{"\\ud800": 1}', "half of a character"),
        ('"a\nb"', "control character"),
        ("\ufeff{}", "not JSON"),
        ("[" * 30 + "]" * 30, f"more than {MOST_DEPTH} levels deep"),
        ("[" * 100_000, "deep"),
        ('{"a":' * 100_000, "deep"),
    ],
    ids=range(18),
)
def test_everything_else_is_refused(text, word):
    with pytest.raises(Unreadable, match=".") as refused:
        read_json(text)
    (problem,) = refused.value.problems
    assert word in problem.message and len(problem.message) < 300
    assert problem.value and problem.accepted in problem.message


def test_halves_that_make_a_whole_character_are_read():
    assert read_json('"\\ud83d\\ude00"') == "\U0001f600"


@pytest.mark.parametrize(
    "text", ['"\\"' * 60_000, '{"a": "' + "\\" * 200_000, "{" + ",".join(f'"{n}":0' for n in range(20_000)) + ',"0":1}']
)
def test_hostile_bodies_take_no_time(text):
    start = time.process_time()
    with pytest.raises(Unreadable):
        read_json(text)
    assert time.process_time() - start < 1.0


def post(client, body, content_type="application/json"):
    return client.generic("POST", ACCOUNTS, body, content_type=content_type)


@pytest.mark.django_db
class TestOnAnEndpoint:
    def test_latin_1_is_refused(self, guest):
        body = problem_of(post(guest, '{"username": "müller"}'.encode("latin-1")), 400)
        assert "not UTF-8" in body["detail"] and "0xfc" in body["detail"]

    @pytest.mark.parametrize("form", ["application/json; charset=latin-1", 'application/json; charset="utf-16"'])
    def test_another_charset_is_refused(self, guest, form):
        (problem,) = problem_of(post(guest, b"{}", form), 415)["problems"]
        assert problem["field"] == "Content-Type" and "UTF-8" in problem["accepted"]

    @pytest.mark.parametrize("form", ["application/json; charset=UTF-8", "application/json;charset=utf8"])
    def test_utf_8_may_be_said(self, guest, form):
        problem_of(post(guest, b"{}", form), 422)

    @pytest.mark.parametrize(
        "form", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data", "", "x"]
    )
    def test_another_type_is_refused(self, guest, form):
        (problem,) = problem_of(post(guest, b"a=1", form), 415)["problems"]
        assert problem["field"] == "Content-Type" and "application/json" in problem["accepted"]

    def test_too_long_a_body_is_refused(self, guest):
        detail = problem_of(post(guest, b'{"a": "' + b"x" * 70_000 + b'"}'), 413)["detail"]
        assert "65536 bytes" in detail

    @pytest.mark.parametrize("body", ["[]", "null", "1", '"text"', "true"])
    def test_body_that_is_no_object_is_refused(self, guest, body):
        (problem,) = problem_of(post(guest, body), 422)["problems"]
        assert problem["field"] == "" and "JSON object" in problem["accepted"]
