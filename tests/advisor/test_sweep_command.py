"""``manage.py sweep``."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.db import OperationalError

from advisor.management.commands import sweep as command
from tests.advisor.asking import make_outcome


class Stopped(Exception):
    """Ends what would go on forever."""


def test_once_says_how_much_was_handed_out(broker):
    make_outcome()
    out = StringIO()
    with broker.commit():
        call_command("sweep", stdout=out)
    assert out.getvalue() == "3 pieces of work handed out\n" and len(broker.waiting) == 3


def test_forever_goes_on_when_the_database_is_away(monkeypatch, caplog):
    found = iter([OperationalError("database is locked"), []])
    slept = []

    def sweep(now):
        answer = next(found)
        if isinstance(answer, Exception):
            raise answer
        return answer

    def sleep(seconds):
        slept.append(seconds)
        if len(slept) == 2:
            raise Stopped

    monkeypatch.setattr(command, "sweep", sweep)
    monkeypatch.setattr(command.time, "sleep", sleep)
    with pytest.raises(Stopped):
        call_command("sweep", "--forever")
    assert slept == [15.0, 15.0] and "database is locked" in caplog.text
