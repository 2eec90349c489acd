"""Reading a brief: what is accepted, what is refused and how, what is filled in."""

import dataclasses
import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.brief import CRITERIA, DEFAULT_WEIGHTS, FIELDS, canonical, read_brief
from advisor.brief.contradictions import _CHECKS
from advisor.brief.fields import FIELD_OF
from advisor.brief.values import Refused, read_value, shown
from advisor.engine.inputs import Brief

LEAST = {"processor_watts": 65, "board_form": "atx", "noise_target_dba": 30, "drive_count": 1}
KNOWN = {"hallmere-7": "enclosure", "hallmere-9": "enclosure", "blower-120": "fan"}

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=12), inner, max_size=4),
    max_leaves=8,
)
field_names = st.sampled_from(sorted(FIELD_OF))


def read(**changes):
    return read_brief({**LEAST, **changes}, KNOWN)


def only_problem(**changes):
    reading = read(**changes)
    assert reading.brief is None
    (problem,) = reading.problems
    return problem


def test_least_brief_is_filled_with_defaults():
    expected = Brief(65.0, "atx", 30.0, drive_count=1, weights=DEFAULT_WEIGHTS)
    assert read().brief == expected


def test_table_of_fields_is_that_of_the_engine():
    assert sorted(field.target for field in FIELDS) == sorted(field.name for field in dataclasses.fields(Brief))


def test_names_of_the_contract_are_all_there():
    names = """processor_watts board_form noise_target_dba drive_count usable_capacity_tb title graphics_watts
    graphics_count graphics_length_mm graphics_slots graphics_airflow graphics_noise_dba processor_socket drive_form
    drive_capacity_tb layout hot_spares spare_bays hot_swap ssd_count card_count seat_distance_m seat_side
    room_background_dba room_absorption_m2 orientation placement max_width_mm max_height_mm max_depth_mm ambient_c
    hot_day_c altitude_m limit_processor_c limit_graphics_c limit_drive_c confidence noise_scenarios ups_minutes
    energy_price budget currency weights required_parts excluded_parts"""
    assert set(FIELD_OF) == set(names.split())


@pytest.mark.parametrize("field", [one for one in FIELDS if one.default is not None], ids=lambda field: field.name)
def test_default_is_accepted_in_its_regular_form(field):
    assert read_value(field, field.default) == field.default


@pytest.mark.parametrize(
    "field", [one for one in FIELDS if one.kind in ("number", "integer")], ids=lambda field: field.name
)
def test_range_includes_its_ends_and_no_more(field):
    assert [read_value(field, end) for end in (field.minimum, field.maximum)] == [field.minimum, field.maximum]
    for beyond in (field.minimum - 1, field.maximum + 1):
        with pytest.raises(Refused, match="is out of range"):
            read_value(field, beyond)


@pytest.mark.parametrize("field", [one for one in FIELDS if one.kind == "choice"], ids=lambda field: field.name)
def test_each_choice_is_accepted(field):
    assert [read_value(field, choice) for choice in field.choices] == list(field.choices)


def test_lengths_come_in_millimetres_and_go_in_metres():
    brief = read(max_width_mm=215, graphics_watts=200, graphics_length_mm=285).brief
    assert (brief.max_width_m, brief.graphics_length_m) == (0.215, 0.285)


def test_not_a_mapping_is_one_problem():
    for value in (None, [1, 2], "text", 5):
        (problem,) = read_brief(value).problems
        assert problem.accepted == "a mapping of field names to values"


def test_each_missing_field_is_named():
    problems = read_brief({}).problems
    assert [one.field for one in problems] == ["processor_watts", "board_form", "drive_count", "noise_target_dba"]
    assert all("is missing" in one.message for one in problems)


@pytest.mark.parametrize(
    ("name", "value", "why"),
    [
        ("processor_watts", "65", "is not a number"),
        ("processor_watts", True, "is not a number"),
        ("processor_watts", math.nan, "is not a finite number"),
        ("processor_watts", math.inf, "is not a finite number"),
        ("processor_watts", -65, "is out of range"),
        ("processor_watts", 10**400, "is out of range"),
        ("processor_watts", None, "is not a number"),
        ("drive_count", 2.5, "is not a whole number"),
        ("drive_count", 201, "is out of range"),
        ("hot_swap", 1, "is neither true nor false"),
        ("hot_swap", "yes", "is neither true nor false"),
        ("board_form", "atxx", "is not known (did you mean 'atx'?)"),
        ("drive_form", 3.5, "is not a text (write it in quotes)"),
        ("title", 7, "is not a text"),
        ("title", "x" * 121, "is 121 characters long"),
        ("title", "two\nlines", "has control characters"),
        ("title", "turned \u202e round", "has control characters"),
        ("title", "half \ud800", "has control characters"),
        ("currency", "euro", "is not such a code"),
        ("currency", "EUR\n", "is not such a code"),
        ("noise_scenarios", [], "is empty"),
        ("noise_scenarios", "idle", "is not a list"),
        ("noise_scenarios", ["idle", "asleep"], "has the entry 'asleep', which is not known"),
        ("required_parts", "hallmere-7", "is not a list"),
        ("required_parts", [3], "has the entry 3, which is not a part code"),
        ("required_parts", ["blower-120"] * 51, "is too long"),
        ("excluded_parts", ["hallmere-8"], "is not in the catalogue (did you mean 'hallmere-9'?)"),
        ("weights", {"nois": 1}, "has the criterion 'nois', which is not known (did you mean 'noise'?)"),
        ("weights", {"noise": -1}, "gives 'noise' the weight -1, which is out of range"),
        ("weights", dict.fromkeys(CRITERIA, 0), "drops every criterion"),
        ("weights", [1], "is not a mapping"),
    ],
)
def test_wrong_value_is_refused_with_reason(name, value, why):
    problem = only_problem(**{name: value})
    assert (problem.field, why in problem.message) == (name, True)
    assert problem.value in problem.message and problem.accepted in problem.message


def test_unknown_field_is_named_with_the_nearest():
    problem = only_problem(noise_target=30)
    assert problem.message == (
        "noise_target is not a field; accepted: the fields of a brief (did you mean 'noise_target_dba'?)."
    )


def test_many_unknown_fields_are_cut_short():
    problems = read(**{f"x{number}": 1 for number in range(1000)}).problems
    assert len(problems) == 21
    assert "980 more names are not fields" in " ".join(one.message for one in problems)


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"usable_capacity_tb": 20}, "drive_count", "stands beside usable_capacity_tb (20)"),
        ({"drive_count": None}, "drive_count", "is missing"),
        ({"graphics_count": 1}, "graphics_watts", "is no heat for graphics_count 1"),
        ({"graphics_watts": 0, "graphics_count": 2}, "graphics_watts", "is no heat for graphics_count 2"),
        ({"graphics_watts": 200, "graphics_count": 0}, "graphics_count", "is no board for graphics_watts 200"),
        ({"ambient_c": 28, "hot_day_c": 25}, "hot_day_c", "is below ambient_c (28)"),
        ({"limit_drive_c": 22}, "limit_drive_c", "is not above ambient_c (22)"),
        ({"limit_drive_c": 29}, "limit_drive_c", "is not above hot_day_c (30)"),
        ({"hot_day_c": 46}, "limit_drive_c", "is not above hot_day_c (46)"),
        ({"limit_processor_c": 21}, "limit_processor_c", "is not above ambient_c (22)"),
        ({"layout": "double_parity", "drive_count": 3}, "drive_count", "double_parity needs at least 4; 3 are given"),
        ({"layout": "mirror"}, "drive_count", "accepted: 2 or more, or another layout"),
        ({"layout": "stripe_of_mirrors", "drive_count": 7}, "drive_count", "multiple of 2 drives"),
        ({"layout": "mirror", "drive_count": 3, "hot_spares": 3}, "hot_spares", "leaves none of 3 drives for data"),
        ({"hot_spares": 1, "drive_count": 5}, "hot_spares", "layout 'none' has nothing to rebuild"),
        (
            {"required_parts": ["blower-120"], "excluded_parts": ["blower-120"]},
            "excluded_parts",
            "also in required_parts",
        ),
        (
            {"required_parts": ["hallmere-7", "hallmere-9"]},
            "required_parts",
            "one enclosure too many beside hallmere-7",
        ),
    ],
)
def test_contradiction_names_field_and_reason(changes, field, words):
    problem = only_problem(**changes)
    assert problem.field == field
    assert words in problem.message


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"usable_capacity_tb": 900, "drive_capacity_tb": 4}, "needs more than 200 drives of 4 TB"),
        ({"usable_capacity_tb": 9, "drive_capacity_tb": 4, "layout": "mirror"}, "is more than a mirror of 4 TB drives"),
    ],
)
def test_capacity_out_of_reach_is_a_contradiction(changes, words):
    problem = only_problem(drive_count=None, **changes)
    assert (problem.field, words in problem.message) == ("usable_capacity_tb", True)


def test_refused_field_raises_no_contradiction():
    assert [one.field for one in read(ambient_c="warm", hot_day_c=10).problems] == ["ambient_c"]


def test_checks_name_fields_that_exist():
    assert {name for fields, _ in _CHECKS for name in fields} <= set(FIELD_OF)


def test_parts_are_not_looked_up_without_a_catalogue():
    assert read_brief({**LEAST, "required_parts": ["anything"]}).brief.required_parts == ("anything",)


def test_graphics_boards_are_assumed_with_a_warning_each():
    reading = read(graphics_watts=200)
    brief = reading.brief
    assert (brief.graphics_count, brief.graphics_length_m, brief.graphics_slots, brief.graphics_noise_dba) == (
        1,
        0.27,
        2,
        36.0,
    )
    assert [one.field for one in reading.warnings] == ["graphics_length_mm", "graphics_slots", "graphics_noise_dba"]


def test_hot_day_is_never_below_ambient():
    reading = read(ambient_c=33)
    assert reading.brief.hot_day_c == 33.0
    assert "33 °C is taken" in reading.warnings[0].message


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"noise_target_dba": 20}, "noise_target_dba", "is below room_background_dba (25 dBA)"),
        ({"limit_drive_c": 60}, "limit_drive_c", "above what is usual (50 °C)"),
        ({"limit_processor_c": 100}, "limit_processor_c", "above what is usual (95 °C)"),
        ({"graphics_length_mm": 250}, "graphics_length_mm", "has no effect"),
        ({"drive_count": 4}, "layout", "has no redundancy"),
    ],
)
def test_warning_leaves_the_brief_acceptable(changes, field, words):
    reading = read(**changes)
    assert reading.brief is not None
    assert [(one.field, words in one.message) for one in reading.warnings] == [(field, True)]


def test_weights_left_out_keep_their_defaults():
    assert read(weights={"noise": 5, "price": 0}).brief.weights == {**DEFAULT_WEIGHTS, "noise": 5.0, "price": 0.0}


def test_canonical_form_forgets_title_and_order():
    one = {**LEAST, "title": "mine", "excluded_parts": ["b", "a", "b"], "noise_scenarios": ["working", "idle"]}
    other = {"excluded_parts": ["a", "b"], "processor_watts": 65.0, **LEAST, "weights": {"noise": 3}}
    assert canonical(read_brief(one).brief) == canonical(read_brief(other).brief)


def test_canonical_form_is_sorted_plain_data():
    data = canonical(read().brief)
    assert list(data) == sorted(data)
    assert json.loads(json.dumps(data, allow_nan=False)) == data


@given(field_names, st.integers(0, 30))
def test_canonical_form_tells_different_questions_apart(name, value):
    changed = read_brief({**LEAST, name: value}).brief
    if changed is not None and name != "title":
        same = getattr(changed, FIELD_OF[name].target) == getattr(read().brief, FIELD_OF[name].target)
        assert (canonical(changed) == canonical(read().brief)) == same


@given(json_values)
def test_no_json_value_raises(value):
    reading = read_brief(value, KNOWN)
    assert (reading.brief is None) == bool(reading.problems)


@given(st.dictionaries(field_names | st.text(max_size=12), json_values, max_size=12))
def test_no_json_mapping_raises(changes):
    reading = read_brief({**LEAST, **changes}, KNOWN)
    assert (reading.brief is None) == bool(reading.problems)
    for problem in reading.problems:
        assert problem.field and problem.accepted and len(problem.message) < 2000
        problem.message.encode()


@given(json_values)
def test_values_are_shown_short_and_printable(value):
    text = shown(value)
    assert len(text) <= 500
    assert text.isprintable() or not isinstance(value, str)
