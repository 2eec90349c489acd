"""Warming up compiles every kernel that a study meets later, so that no one waits for the compiler."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
# Scores, describes and draws builds of several enclosures, then names what had to be compiled for that.
STUDY = """
import sys
from dataclasses import replace
import numpy as np
from numba.core.dispatcher import Dispatcher
from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.sampling import sample
from advisor.engine.search.score import score_enclosure
from tests.engine.record.found import brief, catalogue

parts = catalogue()
briefs = brief(), brief(noise_target_dba=6.0), brief(graphics_airflow="blower"), brief(drive_count=0, layout="none")
for asked in briefs:
    for box in parts.enclosures:
        for best in score_enclosure(asked, parts, box).best:
            one = best.candidate
            build = build_of(asked, parts, box, one.fans, one.cooler, one.supply, one.drive)
            describe(build, best.rows, best.steps, parts, best.criteria)
            sample(build, np.array(best.rows), np.array(best.steps))
kernels = [
    (f"{name}.{word}", value) for name, module in list(sys.modules.items()) if name.startswith("advisor.engine")
    for word, value in vars(module).items() if isinstance(value, Dispatcher)
]
assert any(kernel.stats.cache_hits for _, kernel in kernels)
print(*sorted({name for name, kernel in kernels if kernel.stats.cache_misses}))
"""


def python(cache, *arguments):
    environment = os.environ | {"NUMBA_CACHE_DIR": str(cache)}
    return subprocess.run([sys.executable, *arguments], cwd=ROOT, env=environment, capture_output=True, text=True)


def test_it_prints_one_line_with_the_seconds():
    done = python(os.environ["NUMBA_CACHE_DIR"], "-m", "advisor.engine.warm_up")
    assert (done.returncode, done.stderr) == (0, "")
    assert re.fullmatch(r"Scored 48 builds of a tiny case in \d+\.\d s: the kernels are compiled\.\n", done.stdout)


@pytest.mark.slow
def test_a_study_after_it_compiles_nothing(tmp_path):
    warm = python(tmp_path, "-m", "advisor.engine.warm_up")
    assert warm.returncode == 0, warm.stderr
    done = python(tmp_path, "-c", STUDY)
    assert (done.returncode, done.stdout.strip()) == (0, ""), done.stderr
