"""``python -m tests.bench [name ...]``: measure, print a table, write bench.json and bench.png into the data folder."""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime
from pathlib import Path

from tests.bench.demo import ROOT
from tests.bench.fresh import MeasurementError, measured
from tests.bench.listing import MEASUREMENTS
from tests.bench.machine import machine
from tests.bench.plot import plot
from tests.bench.results import write_results
from tests.bench.table import details, table


def main(names: list[str]) -> int:
    """Take the named measurements, or all; missed targets are no error, a measurement that fails is one."""
    unknown = [name for name in names if name not in MEASUREMENTS]
    if unknown:
        print(f"There is no measurement {', '.join(unknown)}; there are: {', '.join(MEASUREMENTS)}", file=sys.stderr)
        return 1
    folder = (ROOT / os.environ.get("BAYWIND_DATA", "var")).resolve()
    entries, failed = [], []
    for name in names or MEASUREMENTS:
        print(f"Measuring {name} ...", file=sys.stderr, flush=True)
        here, now = machine(), datetime.now(UTC).isoformat(timespec="seconds")
        try:
            result = measured(name)
        except MeasurementError as error:
            failed.append(str(error))
            continue
        everything = write_results(folder / "bench.json", [result], here, now)
        plot(everything, folder / "bench.png")
        entries.append(next(entry for entry in everything if entry["name"] == name))
    _report(entries, folder)
    print("\n".join(failed), file=sys.stderr, end="\n" if failed else "")
    return 1 if failed else 0


def _report(entries: list[dict], folder: Path) -> None:
    if not entries:
        return
    here = entries[-1]["machine"]
    print(f"{here['processor']}, {here['cores']} cores, Python {here['python']}, load before {here['load_before']}")
    for entry in entries:
        print(f"\n{entry['name']}\n{details(entry)}")
    print(f"\n{table(entries)}\n\nWritten: {folder / 'bench.json'}, {folder / 'bench.png'}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
