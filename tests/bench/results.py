"""What a measurement finds, and the file that keeps it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

FIELDS = ("name", "value", "unit", "peer", "ratio", "detail")


@dataclass(frozen=True)
class Result:
    """One measured value; ``peer`` says what it is compared with and ``ratio`` how many times as fast it is."""

    name: str
    value: float
    unit: str
    peer: str | None = None
    ratio: float | None = None
    detail: Mapping[str, Any] = field(default_factory=dict)

    def entry(self) -> dict[str, Any]:
        """Return the result as the file holds it."""
        return asdict(self)


def result_of(entry: Mapping[str, Any]) -> Result:
    """Return the result that an entry of the file holds."""
    return Result(**{name: entry[name] for name in FIELDS})


def write_results(file: Path, results: Iterable[Result], machine: Mapping[str, Any], date: str) -> list[dict[str, Any]]:
    """Write results with the machine and the date they are of; what the file holds under other names stays."""
    new = [{**result.entry(), "machine": dict(machine), "date": date} for result in results]
    names = {entry["name"] for entry in new}
    kept = [entry for entry in read_results(file) if entry["name"] not in names]
    entries = sorted([*kept, *new], key=lambda entry: entry["name"])
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(json.dumps(entries, indent=2, allow_nan=False) + "\n")
    return entries


def read_results(file: Path) -> list[dict[str, Any]]:
    """Return the entries of an earlier run, none where there was none."""
    return json.loads(file.read_text()) if file.exists() else []
