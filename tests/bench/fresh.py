"""A measurement in a process of its own: ``python -m tests.bench.fresh NAME`` prints its result as JSON."""

from __future__ import annotations

import json
import os
import subprocess
import sys

from tests.bench.demo import ROOT, kernel_cache
from tests.bench.listing import MEASUREMENTS
from tests.bench.results import Result, result_of

ONE_THREAD = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


class MeasurementError(Exception):
    """A measurement that could not be taken; what went wrong has been printed."""


def measured(name: str) -> Result:
    """Take a measurement in a fresh process; what it says on stderr is passed on."""
    command = [sys.executable, "-m", "tests.bench.fresh", name]
    environment = os.environ | ONE_THREAD | {"NUMBA_CACHE_DIR": kernel_cache()}
    done = subprocess.run(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True)
    if done.returncode:
        raise MeasurementError(f"{name} could not be measured: its process left with {done.returncode}")
    return result_of(json.loads(done.stdout.splitlines()[-1]))


if __name__ == "__main__":
    print(json.dumps(MEASUREMENTS[sys.argv[1]].take().entry(), allow_nan=False))
