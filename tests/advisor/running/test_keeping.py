"""The thread that renews a lease."""

import threading
import uuid

from django.db import OperationalError

from advisor.models import Chunk
from advisor.running import keeping
from advisor.running.keeping import Keeper
from advisor.running.leases import Lease

PATIENCE_S = 20.0


def keeper_that_renews(monkeypatch, answers):
    """A keeper whose renewals get these answers, one after the other; ``done`` is set after the last one."""
    done, answers = threading.Event(), iter([*answers, None])

    def renew(lease, now, **columns):
        answer = next(answers)
        if answer is None:
            done.set()
            return True
        if isinstance(answer, Exception):
            raise answer
        return answer

    monkeypatch.setattr(keeping, "RENEWAL_S", 0.001)
    monkeypatch.setattr(Lease, "renew", renew)
    return Keeper(Lease(Chunk, 1, 1, uuid.uuid4())), done


def test_it_renews_until_the_work_ends(monkeypatch):
    keeper, done = keeper_that_renews(monkeypatch, [True, True, True])
    with keeper:
        assert done.wait(PATIENCE_S)
    assert not keeper._thread.is_alive()


def test_a_busy_database_is_tried_again(monkeypatch):
    keeper, done = keeper_that_renews(monkeypatch, [OperationalError("database is locked"), True])
    with keeper:
        assert done.wait(PATIENCE_S)
        keeper.progress(1)
