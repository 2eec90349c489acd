"""Own enclosures as the interface shows them when they are entered."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from advisor.tape.ledger import Derived


def derived_body(lines: Iterable[Derived]) -> list[dict[str, Any]]:
    """Return derived figures as bodies."""
    return [
        {
            "figure": line.figure,
            "value": line.value,
            "unit": line.unit,
            "standard_uncertainty": line.uncertainty,
            "relation": line.relation,
            "source": line.source,
            "inputs": [{"name": name, "value": value} for name, value in line.inputs],
        }
        for line in lines
    ]
