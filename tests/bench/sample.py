"""The sample brief from a cold start: a fresh process, the demo catalogue in its database, the shortlist printed."""

from __future__ import annotations

import statistics
import subprocess
import sys
from resource import RUSAGE_CHILDREN, getrusage

from tests.bench.demo import ROOT, demo_data, manage
from tests.bench.results import Result
from tests.bench.timing import durations_s

BRIEF = "fixtures/briefs/ten_drive_archive_box.yaml"
REPEATS = 7


def sample_brief() -> Result:
    """Median seconds of ``manage.py advise`` from the start of its process to its end, and after its imports."""
    with demo_data() as environment:
        # once unmeasured, for kernels and the system's cache of files
        printed = manage(environment, "advise", BRIEF).stdout
        if not printed.strip():
            raise RuntimeError(f"manage.py advise {BRIEF} printed nothing")
        before = getrusage(RUSAGE_CHILDREN)
        whole = durations_s(lambda: manage(environment, "advise", BRIEF), REPEATS)
        used = getrusage(RUSAGE_CHILDREN)
        inside = [_after_imports(environment) for _ in range(REPEATS)]
    detail = {
        "command": f"manage.py advise {BRIEF}",
        "runs_s": [round(seconds, 3) for seconds in whole],
        # beside the clock, since other programs may have had the cores
        "processor_s": round((used.ru_utime + used.ru_stime - before.ru_utime - before.ru_stime) / REPEATS, 3),
        "imports_s": round(statistics.median(imports for imports, _ in inside), 3),
        "after_imports_s": round(statistics.median(rest for _, rest in inside), 3),
        "lines_printed": len(printed.splitlines()),
    }
    return Result("sample_brief", round(statistics.median(whole), 3), "s", detail=detail)


def _after_imports(environment: dict[str, str]) -> tuple[float, float]:
    """Seconds of imports, and of all that follows, in one more fresh process."""
    command = [sys.executable, "-m", "tests.bench.after_imports", BRIEF]
    done = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True)
    if done.returncode:
        raise RuntimeError(f"{' '.join(command[1:])} failed ({done.returncode}): {done.stderr.strip()[-2000:]}")
    imports, rest = done.stdout.splitlines()[-1].split()
    return float(imports), float(rest)
