"""The loader's reading of a rule is the database's."""

import pytest
from django.apps import apps
from django.db import models
from django.db.models import F, Q, Value
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.models.rules import Rule, implies, sums_to, truth
from catalog.models.wiring import Opening

RULES = [(m, rule) for m in apps.get_app_config("catalog").get_models() for rule in getattr(m, "RULES", ())]
NUMBER = st.sampled_from([0.0, 0.5, 1.0, 20.0, 400.0])


def _columns_of(condition):
    for part in condition.children:
        if isinstance(part, Q):
            yield from _columns_of(part)
        else:
            yield part[0].partition("__")[0]
            yield from _named(part[1])


def _named(expression):
    if isinstance(expression, F):
        yield expression.name
    elif hasattr(expression, "lhs"):
        yield from _named(expression.lhs)
        yield from _named(expression.rhs)


def _kind(model, name):
    field = model._meta.get_field(name)
    if field.is_relation:
        return models.IntegerField()
    return models.TextField() if field.get_internal_type() == "JSONField" else field


def _values(model, name):
    field = model._meta.get_field(name)
    if field.is_relation:
        return st.sampled_from([None, 1, 2])
    if field.choices:
        return st.sampled_from([word for word, _ in field.flatchoices] + [""])
    if field.get_internal_type() == "BooleanField":
        return st.booleans()
    if field.get_internal_type() == "PositiveIntegerField":
        return st.sampled_from([0, 1, 20])
    if field.get_internal_type() == "FloatField":
        return NUMBER | st.none() if field.null else NUMBER
    if field.get_internal_type() == "JSONField":
        return st.sampled_from([None, "[[0, 1], [1, 0]]"])
    return st.sampled_from(["", "outside", "x"])


@pytest.mark.parametrize(("model", "rule"), RULES, ids=lambda item: getattr(item, "name", ""))
def test_every_rule_names_all_its_columns(model, rule):
    assert set(_columns_of(rule.condition)) == set(rule.columns)


@pytest.mark.parametrize(("model", "rule"), RULES, ids=lambda item: getattr(item, "name", ""))
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_python_and_database_judge_rows_alike(db, model, rule, data):
    row = {name: data.draw(_values(model, name)) for name in rule.columns}
    typed = {name: Value(value, output_field=_kind(model, name)) for name, value in row.items()}
    assert rule.holds(row) == rule.condition.check(typed)


def test_unknown_outcomes_do_not_break_a_rule():
    rule = Rule("r", Q(a__lt=F("b")), ("a", "b"), "")
    assert truth(rule.condition, {"a": None, "b": 1}) is None
    assert rule.holds({"a": None, "b": 1})


def test_implication_binds_only_where_its_premise_holds():
    rule = implies(Q(a=1), Q(b=2))
    assert [truth(rule, {"a": a, "b": b}) for a, b in ((1, 2), (1, 3), (0, 3))] == [True, False, True]


def test_sums_are_taken_over_all_columns():
    rule = sums_to(("a", "b", "c"), 1.0, 1e-6)
    assert truth(rule, {"a": 0.5, "b": 0.25, "c": 0.25})
    assert not truth(rule, {"a": 0.5, "b": 0.25, "c": 0.2499})


def test_ranges_and_words_become_constraints_by_name():
    names = {constraint.name for constraint in Opening._meta.constraints}
    assert {"opening_area_cm2_range", "opening_kind_known", "opening_filter_whole", "opening_one_supply"} <= names
