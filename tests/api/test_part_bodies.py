"""Bodies of parts that cannot be taken: one problem a field, by its path in the body, and nothing half-written."""

import json

import pytest

from api.writing import MOST_PROBLEMS
from catalog.importing.loading import catalog_digest
from tests.api.parts import BASE, FAN, FANS, READ_ONLY, TOWER, match
from tests.api.test_root import problem_of

NOT_SET = object()


@pytest.fixture(autouse=True)
def nothing_changes(small_catalogue):
    before = catalog_digest()
    yield
    assert catalog_digest() == before


@pytest.fixture
def put(curator):
    """Send an enclosure's or a fan's body back with something spoilt, by its path; return the problems by field."""

    def send(address, path, value):
        read = curator.get(address)
        body = {key: one for key, one in read.json().items() if key not in READ_ONLY}
        spoil(body, path.split("/"), value)
        answer = curator.put(address, body, headers=match(read))
        return {problem["field"]: problem for problem in problem_of(answer, 422)["problems"]}

    return send


def spoil(body, path, value):
    for key in path[:-1]:
        body = body[int(key) if isinstance(body, list) else key]
    if value is NOT_SET:
        del body[path[-1]]
    else:
        body[int(path[-1]) if isinstance(body, list) else path[-1]] = value


@pytest.mark.parametrize(
    ("path", "value", "field", "accepted"),
    [
        ("price", "12", "price", "from 0 to 1000000 EUR"),
        ("price", True, "price", "from 0 to 1000000 EUR"),
        ("price", None, "price", "from 0 to 1000000 EUR"),
        ("price", NOT_SET, "price", "from 0 to 1000000 EUR"),
        ("price", [], "price", "from 0 to 1000000 EUR"),
        ("price", {"eur": 3}, "price", "from 0 to 1000000 EUR"),
        ("price", -1, "price", "from 0 to 1000000 EUR"),
        ("price", 1e300, "price", "from 0 to 1000000 EUR"),
        ("price", 10**400, "price", "from 0 to 1000000 EUR"),
        ("name", "x" * 121, "name", "1 to 120 characters"),
        ("name", "a\u202eb", "name", "1 to 120 characters"),
        ("name", "a\x07b", "name", "1 to 120 characters"),
        ("name", "a\u2028b", "name", "1 to 120 characters"),
        ("name", " ", "name", "1 to 120 characters"),
        ("name", 3, "name", "1 to 120 characters"),
        ("code", "two words", "code", "1 to 64 letters"),
        ("maker", "Nobody", "maker", "Marl"),
        ("maker", "x" * 5000, "maker", "Marl"),
        ("maker", 3, "maker", "another value"),
        ("source", "nowhere", "source", "bench"),
        ("control", "steam", "control", "temperature"),
        ("may_stop", "yes", "may_stop", "true or false"),
        ("steps_rpm", [700, 700], "steps_rpm", "rising numbers"),
        ("steps_rpm", "700", "steps_rpm", "rising numbers"),
        ("sound_rpm_dba", [[400]], "sound_rpm_dba", "at least 1 pairs"),
        ("sound_rpm_dba", [[10 + n, 20] for n in range(300)], "sound_rpm_dba", "at least 1 pairs"),
        ("curve", NOT_SET, "curve", "a mapping with speed_rpm"),
        ("curve", 3, "curve", "a mapping with speed_rpm"),
        ("curve/speed_rpm", 0, "curve.speed_rpm", "from 10 to 50000 rpm"),
        ("curve/points_m3h_pa", [[0, 0], [9, 0]], "curve.points_m3h_pa", "above 0 Pa"),
        ("curve/colour", 3, "curve.colour", "speed_rpm"),
        ("min_rpm", 2000, "min_rpm, max_rpm", "min_rpm must not be above max_rpm"),
        ("colour", "red", "colour", "control"),
        ("sources", {"price": "nowhere"}, "sources.price", "bench"),
        ("sources", {"colour": "bench"}, "sources.colour", "curve, life_h"),
        ("uncertainty", {"price": -1}, "uncertainty.price", "5 %"),
        ("uncertainty", {"curve": "5 percent"}, "uncertainty.curve", "a percentage"),
        ("uncertainty", [], "uncertainty", "another value"),
    ],
)
def test_a_fan_with_a_bad_value(put, path, value, field, accepted):
    problems = put(FAN, path, value)
    assert list(problems) == [field]
    assert accepted in problems[field]["accepted"] and problems[field]["message"].startswith(f"{field}: ")
    assert len(problems[field]["message"]) < 700


@pytest.mark.parametrize(
    ("path", "value", "fields"),
    [
        ("openings/0/area_cm2", "big", ["openings.front_fans.area_cm2"]),
        ("openings/0/position_mm", [1, 2], ["openings.front_fans.position_mm"]),
        ("openings/0/position_mm/1", None, ["openings.front_fans.position_mm[2]"]),
        ("openings/0/filter/class", "dense", ["openings.front_fans.filter.class"]),
        ("openings/0/to", "nowhere", ["openings.front_fans.to"]),
        ("openings/0/side", "", ["openings.front_fans.kind, side"]),
        ("zones", NOT_SET, ["zones"]),
        ("zones", {}, ["zones"]),
        ("sound_shares/processor/front", 2, ["sound_shares.processor.front"]),
        ("sound_shares/nowhere", {"front": 1}, ["sound_shares.nowhere"]),
        ("sound_shares/processor", NOT_SET, ["sound_shares.processor"]),
        ("supply_opening", "front_fans", ["supply_opening"]),
        ("insertion_loss_db", NOT_SET, ["insertion_loss_db"]),
        ("service/front_ports", 1.5, ["service.front_ports"]),
        ("size_mm/0", 1e9, ["size_mm[1]"]),
        ("openings", [{}] * 10_000, ["openings"]),
        ("board_forms", [], ["board_forms"]),
        ("orientations", ["upright", "upright"], ["orientations"]),
    ],
)
def test_an_enclosure_with_a_bad_value_inside(put, path, value, fields):
    assert list(put(TOWER, path, value)) == fields


def test_an_opening_that_is_no_block_is_named_by_its_number(put):
    assert put(TOWER, "openings/0", 3)["openings.1"]["message"].startswith("openings.1: 3 is not a block")


def test_every_bad_value_is_named_at_once(curator):
    read = curator.get(FAN)
    answer = curator.patch(FAN, {"price": -1, "curve": {"speed_rpm": 0}, "colour": 1, "name": ""}, headers=match(read))
    fields = [problem["field"] for problem in problem_of(answer, 422)["problems"]]
    assert sorted(fields) == ["colour", "curve.speed_rpm", "name", "price"]


def test_names_of_keys_may_be_anything(curator):
    hostile = "\u202e\x1b[2J\n" + "k" * 500
    body = problem_of(curator.post(FANS, {hostile: 1}), 422)
    text = json.dumps(body, ensure_ascii=False)
    assert "\u202e" not in text and "\x1b" not in text and "k" * 100 not in text


def test_of_very_many_problems_the_first_are_shown(curator):
    body = {"openings": [{}] * 200, "zones": [{}] * 200, "seats": [{}] * 200}
    problems = problem_of(curator.post(f"{BASE}enclosures/", body), 422)["problems"]
    assert len(problems) == MOST_PROBLEMS + 1 and "more values are refused" in problems[-1]["message"]


@pytest.mark.parametrize("body", [[], "fan", 3, None, True])
def test_a_body_that_is_no_block_is_refused(curator, body):
    for method, address in (("post", FANS), ("put", FAN), ("patch", FAN)):
        answer = curator.generic(
            method.upper(), address, json.dumps(body), content_type="application/json", headers={"if-match": "*"}
        )
        (problem,) = problem_of(answer, 422)["problems"]
        assert problem["field"] == ""


@pytest.mark.parametrize("text", ['{"price": NaN}', '{"price": Infinity}', '{"price": 1e999}', '{"price": '])
def test_what_is_not_json_is_refused(curator, text):
    answer = curator.generic("PATCH", FAN, text, content_type="application/json", headers={"if-match": "*"})
    problem_of(answer, 400)


def test_a_body_may_only_be_so_long(curator, settings):
    answer = curator.post(FANS, {"name": "x" * settings.PART_BODY_LIMIT})
    problem_of(answer, 413)


def test_a_part_may_be_longer_than_other_bodies(curator, settings):
    padded = {"note": " " * settings.BODY_LIMIT}
    problem_of(curator.post(FANS, padded), 422)
