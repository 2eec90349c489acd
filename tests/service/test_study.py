"""Studies with real workers, a real broker and a real database."""

import threading

import pytest
from django.db import connection
from django.utils import timezone

from advisor import study
from advisor.assembly import catalogue
from advisor.brief import read_brief
from advisor.models import Chunk, Outcome, Study
from advisor.project import processes
from advisor.running import queue
from advisor.submit import status_of, submit_study

pytestmark = pytest.mark.slow

GIVEN = {
    "processor_watts": 65,
    "board_form": "micro_atx",
    "drive_count": 3,
    "layout": "single_parity",
    "noise_target_dba": 40,
    "limit_drive_c": 60,
}
PATIENCE_S = 60.0


def send():
    reading = read_brief(GIVEN)
    return submit_study(brief=reading.brief, given=GIVEN, warnings=reading.warnings, owner=None, now=timezone.now())


def is_done(asked):
    standing = status_of(asked, timezone.now())
    assert standing.status in ("queued", "running", "done"), standing
    return standing.status == "done"


def in_one_process():
    plan = study.plan(read_brief(GIVEN).brief, catalogue())
    return study.merge(plan, [study.score_chunk(plan, code) for code in plan.chunks])


def test_a_submitted_study_is_done_by_workers(service):
    service.start_workers(2)
    asked = send()
    assert processes.wait_until(lambda: is_done(asked), PATIENCE_S)
    assert status_of(asked, timezone.now()).record == in_one_process()
    assert {chunk.attempts for chunk in Chunk.objects.all()} == {1}


def test_workers_that_start_later_find_what_was_left(service):
    """Submitted while no broker could be reached; the workers' start is enough, no sweep runs beside them."""
    service.broker.stop() if service.broker else None
    asked = send()
    if service.broker:
        assert Chunk.objects.get().state == "waiting"
        service.broker.start()
    service.start_workers(1)
    assert processes.wait_until(lambda: Outcome.objects.get().state == "done", PATIENCE_S)
    assert is_done(asked)


def test_the_depth_of_the_queue_is_known(service):
    assert queue.depth() == 0
    queue.Work(1, "nothing").send()
    queue.Work(1).send()
    assert queue.depth() == 2


def test_people_who_ask_at_once_share_one_outcome(service):
    together, sent = threading.Barrier(6), []

    def ask():
        together.wait()
        sent.append(send())
        connection.close()

    askers = [threading.Thread(target=ask) for _ in range(6)]
    for asker in askers:
        asker.start()
    for asker in askers:
        asker.join()
    assert len(sent) == Study.objects.count() == 6
    assert len({one.outcome_id for one in sent}) == Outcome.objects.count() == Chunk.objects.count() == 1
