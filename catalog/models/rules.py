"""Rules that must always hold in a row: written once, enforced by the database and checked by the loader.

A rule is a ``Q`` over the columns of one row. The database takes it as a check constraint; the loader evaluates the
same ``Q`` in Python, because it lists every bad row of a catalogue before it writes the first one.
"""

from __future__ import annotations

import operator
from collections.abc import Mapping
from dataclasses import dataclass
from functools import reduce
from typing import Any, TypeVar

from django.db import models
from django.db.models import F, Q, Value
from django.db.models.expressions import CombinedExpression

from catalog.models.columns import Choice, Count, Quantity

Row = Mapping[str, Any]
M = TypeVar("M", bound=type[models.Model])

_LOOKUPS = {
    "exact": operator.eq,
    "lt": operator.lt,
    "lte": operator.le,
    "gt": operator.gt,
    "gte": operator.ge,
    "in": lambda left, right: left in right,
}
_OPERATORS = {"+": operator.add, "-": operator.sub, "*": operator.mul}


@dataclass(frozen=True)
class Rule:
    """What must hold between columns of one row, and what to say when it does not."""

    name: str
    condition: Q
    columns: tuple[str, ...]
    message: str

    def holds(self, row: Row) -> bool:
        """Return whether a row obeys; as in the database, an unknown outcome does not break a rule."""
        return truth(self.condition, row) is not False

    def constraint(self) -> models.CheckConstraint:
        return models.CheckConstraint(condition=self.condition, name=self.name, violation_error_message=self.message)


def truth(condition: Q, row: Row) -> bool | None:
    """Evaluate a condition on a row with the database's three-valued logic: None means unknown."""
    outcomes = [_outcome(part, row) for part in condition.children]
    decisive = condition.connector == Q.OR
    if decisive in outcomes:
        result: bool | None = decisive
    else:
        result = None if None in outcomes else not decisive
    return (not result if result is not None else None) if condition.negated else result


def _outcome(part: Q | tuple[str, Any], row: Row) -> bool | None:
    if isinstance(part, Q):
        return truth(part, row)
    column, _, lookup = part[0].partition("__")
    left, right = row[column], _value(part[1], row)
    if lookup == "isnull":
        return (left is None) == right
    if left is None or right is None:
        return None
    return bool(_LOOKUPS[lookup or "exact"](left, right))


def _value(expression: Any, row: Row) -> Any:
    if isinstance(expression, F):
        return row[expression.name]
    if isinstance(expression, Value):
        return expression.value
    if isinstance(expression, CombinedExpression):
        left, right = _value(expression.lhs, row), _value(expression.rhs, row)
        return None if left is None or right is None else _OPERATORS[expression.connector](left, right)
    return expression


def implies(premise: Q, conclusion: Q) -> Q:
    """Return the condition 'where the premise holds, so does the conclusion'."""
    return ~premise | conclusion


def sums_to(columns: tuple[str, ...], total: float, within: float) -> Q:
    """Return the condition that columns add up to ``total``, give or take ``within``."""
    first, rest = columns[0], reduce(operator.add, [F(column) for column in columns[1:]])
    return Q(**{f"{first}__gte": Value(total - within) - rest}) & Q(**{f"{first}__lte": Value(total + within) - rest})


def range_rule(model: type[models.Model], column: Quantity | Count) -> Rule:
    """Return the rule that a number lies in its column's range."""
    accepted = column.range
    low, high = "gt" if accepted.low_open else "gte", "lt" if accepted.high_open else "lte"
    condition = Q(**{f"{column.name}__{low}": accepted.low}) & Q(**{f"{column.name}__{high}": accepted.high})
    return Rule(
        f"{model._meta.model_name}_{column.name}_range", condition, (column.name,), f"must be {column.accepted}"
    )


def choice_rule(model: type[models.Model], column: Choice) -> Rule:
    """Return the rule that a word is one of its column's."""
    name = f"{model._meta.model_name}_{column.name}_known"
    return Rule(name, Q(**{f"{column.name}__in": column.words}), (column.name,), f"must be {column.accepted}")


def constrained(model: M) -> M:
    """Class decorator: turn ``RULES`` and the ranges and vocabularies of the columns into database constraints."""
    fields = model._meta.local_concrete_fields
    ranges = [range_rule(model, field) for field in fields if isinstance(field, Quantity | Count)]
    words = [choice_rule(model, field) for field in fields if isinstance(field, Choice)]
    rules = [*ranges, *words, *getattr(model, "RULES", ())]
    model._meta.constraints = [*model._meta.constraints, *(rule.constraint() for rule in rules)]
    # Migrations look at the options as written; tell them that constraints are among these.
    model._meta.original_attrs["constraints"] = model._meta.constraints
    return model
