"""The results as people read them in the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from tests.bench.listing import MEASUREMENTS

_HEADINGS = ("measurement", "value", "unit", "target", "", "compared with")


def table(entries: Iterable[Mapping[str, Any]]) -> str:
    """Return one row a result: value, target, whether it is met, and the peer."""
    rows = [_HEADINGS, *(_row(entry) for entry in entries)]
    widths = [max(len(row[k]) for row in rows) for k in range(len(_HEADINGS))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    )


def _row(entry: Mapping[str, Any]) -> tuple[str, ...]:
    known = MEASUREMENTS.get(entry["name"])
    target = known.target if known else None
    verdict = "" if target is None else ("met" if target.met(entry["value"]) else "NOT MET")
    return entry["name"], f"{entry['value']:,.6g}", entry["unit"], str(target or ""), verdict, entry["peer"] or ""


def details(entry: Mapping[str, Any]) -> str:
    """Return what lies behind a result, one fact to a line."""
    return "\n".join(_lines(entry["detail"], "  "))


def _lines(value: Mapping[str, Any], indent: str) -> Iterable[str]:
    for name, inner in value.items():
        label = name.replace("_", " ")
        if isinstance(inner, Mapping) and any(isinstance(one, Mapping) for one in inner.values()):
            yield f"{indent}{label}:"
            yield from _lines(inner, indent + "  ")
        elif isinstance(inner, list) and inner and isinstance(inner[0], Mapping):
            yield f"{indent}{label}:"
            yield from (f"{indent}  {_facts(one)}" for one in inner)
        else:
            yield f"{indent}{label}: {_facts(inner) if isinstance(inner, Mapping) else inner}"


def _facts(value: Mapping[str, Any]) -> str:
    return ", ".join(f"{name.replace('_', ' ')} {inner}" for name, inner in value.items())
