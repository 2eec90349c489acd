"""Whatever is killed in mid-study, the supervisor starts it again and the study ends as if nothing had happened."""

import os
import signal
import time
from functools import cache

import pytest
import yaml
from django.conf import settings

from advisor import study
from advisor.assembly import catalogue
from advisor.brief import read_brief
from advisor.models import Chunk, Outcome, Study
from advisor.project import processes
from advisor.running import queue
from tests.chaos.machines import all_ended, held_in_mid_study, in_mid_study
from tests.service.undisturbed import undisturbed

BRIEF = settings.BASE_DIR / "fixtures" / "briefs" / "ten_drive_archive_box.yaml"
WITHIN_S = 60.0


@cache
def given():
    return yaml.safe_load(BRIEF.read_text())


@cache
def wanted():
    """The record of the brief in a run in which nothing is killed."""
    return undisturbed(study.plan(read_brief(given()).brief, catalogue()))


@pytest.fixture
def asked(home):
    """A machine that serves, and a study that it has begun."""
    wanted()  # before, so that this process does not compute while others are timed
    served = home.serve()
    address = home.ask("POST", "studies/", given())["url"]
    return home, served, address, Outcome.objects.get()


def check(served, outcome, *, lost):
    """The record is that of a run in which nothing is killed, and only what was lost was begun again."""
    attempts = list(Chunk.objects.of_outcome(outcome.pk).values_list("attempts", flat=True))
    assert Outcome.objects.record_of(outcome.pk) == wanted()
    assert sorted(attempts)[-lost - 1 :] == [1] + [2] * lost
    assert (Outcome.objects.get().attempts, Study.objects.count()) == (1, 1)
    assert "locked" not in served.words()


def test_worker_child(asked, measured):
    home, served, address, outcome = asked
    with held_in_mid_study(home, outcome) as scorers:
        os.kill(scorers[0], signal.SIGKILL)
        killed = time.monotonic()
    took = home.wait_until_done(address, killed, WITHIN_S)
    measured(f"done {took:.1f} s after it was killed")
    check(served, outcome, lost=1)


def test_worker_group(asked, measured):
    home, served, address, outcome = asked
    leader = home.pid("workers")
    with held_in_mid_study(home, outcome):
        os.killpg(leader, signal.SIGKILL)
        killed = time.monotonic()
    took = home.wait_until_done(address, killed, WITHIN_S)
    measured(f"done {took:.1f} s after it was killed")
    assert home.pid("workers") != leader
    check(served, outcome, lost=2)


def test_broker(asked, measured):
    home, served, address, outcome = asked
    leader = home.pid("broker")
    assert processes.wait_until(lambda: in_mid_study(outcome) and queue.depth() > 0, WITHIN_S), outcome
    os.kill(leader, signal.SIGKILL)
    killed = time.monotonic()
    assert Outcome.objects.get().is_unfinished
    took = home.wait_until_done(address, killed, WITHIN_S)
    measured(f"done {took:.1f} s after it was killed")
    assert home.pid("broker") != leader
    check(served, outcome, lost=0)


def test_whole_service(asked, measured):
    """The supervisor itself, and everything with it; it starts again, and goes on where it was."""
    home, served, address, outcome = asked
    with held_in_mid_study(home, outcome) as scorers:
        served.process.kill()
        served.process.wait()
        assert all_ended(scorers)
    assert Outcome.objects.get().is_unfinished
    begun = time.monotonic()
    again = home.serve()
    took = home.wait_until_done(address, begun, WITHIN_S)
    measured(f"done {took:.1f} s after its new start")
    assert "cannot start" not in again.words()
    check(again, outcome, lost=2)
