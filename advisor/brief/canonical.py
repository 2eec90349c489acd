"""The regular form of a brief: equal for equal questions, so that its hash can name the answer."""

from __future__ import annotations

from typing import Any

from advisor.brief.fields import DEFAULT_WEIGHTS, FIELDS
from advisor.engine.inputs import SCENARIOS, Brief

# A name for people changes no answer.
LEFT_OUT = ("title",)


def canonical(brief: Brief) -> dict[str, Any]:
    """Return a brief as plain sorted data in SI units, every default filled in and the title left out.

    Examples
    --------
    >>> brief = Brief(processor_watts=65, board_form="atx", noise_target_dba=30, drive_count=2, title="mine")
    >>> data = canonical(brief)
    >>> data["processor_watts"], data["weights"]["price"], "title" in data
    (65.0, 2.0, False)
    """
    regular = {field.target: _regular(field.kind, getattr(brief, field.target)) for field in FIELDS}
    return {name: regular[name] for name in sorted(regular) if name not in LEFT_OUT}


def _regular(kind: str, value: Any) -> Any:
    if value is None:
        return None
    if kind == "number":
        return float(value) + 0.0  # no negative zero
    if kind == "choices":
        return [scenario for scenario in SCENARIOS if scenario in value]
    if kind == "codes":
        return sorted(set(value))
    if kind == "weights":
        weights = {**DEFAULT_WEIGHTS, **value}
        return {name: float(weights[name]) + 0.0 for name in sorted(weights)}
    return value
