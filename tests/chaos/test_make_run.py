"""`make run` as a person types it: the supervisor is killed hard in mid-study, and the same command goes on with it."""

import os
import re
import signal
import time

from advisor.models import Outcome
from tests.chaos.machines import READY, all_ended, held_in_mid_study
from tests.chaos.test_kills import WITHIN_S, check, given, wanted

# The brief that is scored before it serves: one that nothing meets, which takes little time.
COMMAND = ["make", "run", "BRIEF=fixtures/briefs/impossible.yaml"]
KERNELS = "NUMBA_CACHE_DIR"  # where they are compiled already, rather than in the machine's own data folder
START_S = 300.0


def run(home):
    """Type the command, wait until it serves, and return it with the supervisor's process."""
    program = home.machine.start("make", [*COMMAND, f"{KERNELS}={home.machine.env[KERNELS]}"])
    program.wait_for(READY, START_S).wait_for("celery@").wait_for(" ready.")
    return program, int(re.search(r"as process (\d+)", (home.machine.data / "serving").read_text())[1])


def test_supervisor_killed_hard_and_started_again(home, measured):
    wanted()
    first, supervisor = run(home)
    address = home.ask("POST", "studies/", given())["url"]
    outcome = Outcome.objects.get()
    with held_in_mid_study(home, outcome) as scorers:
        os.kill(supervisor, signal.SIGKILL)
        first.process.wait()
        assert all_ended(scorers)
    assert Outcome.objects.get().is_unfinished
    typed = time.monotonic()
    second, other = run(home)
    served = time.monotonic()
    took = home.wait_until_done(address, served, WITHIN_S)
    measured(f"serves {served - typed:.1f} s after it was typed again; the study is done {took:.1f} s later")
    assert other != supervisor and "cannot start" not in second.words()
    check(second, outcome, lost=2)
