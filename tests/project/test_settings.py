"""The settings as a whole: the database's manners, the time limits, the words on a bad variable."""

import os
import sqlite3
import subprocess
import sys

import pytest
from django.conf import settings
from django.db import ConnectionHandler, transaction

from advisor.project import env


@pytest.fixture
def file_database(tmp_path, monkeypatch, django_db_blocker):
    monkeypatch.delenv("DATABASE_URL", raising=False)
    handler = ConnectionHandler({"default": env.database("DATABASE_URL", tmp_path / "x.sqlite3")})
    with django_db_blocker.unblock():
        yield handler["default"]
        handler.close_all()


def test_sqlite_writes_ahead(file_database):
    with file_database.cursor() as cursor:
        assert cursor.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_transaction_holds_the_write_lock_from_its_start(file_database):
    file_database.ensure_connection()
    file_database.set_autocommit(False, force_begin_transaction_with_broken_autocommit=True)
    other = sqlite3.connect(file_database.settings_dict["NAME"], timeout=0, isolation_level=None)
    with pytest.raises(sqlite3.OperationalError, match="locked"):
        other.execute("BEGIN IMMEDIATE")
    other.close()
    file_database.rollback()


def test_requests_are_not_one_transaction_each():
    assert transaction.get_connection().settings_dict["ATOMIC_REQUESTS"] is False


def test_time_limits_go_up_in_order():
    visible_again = settings.CELERY_BROKER_TRANSPORT_OPTIONS["visibility_timeout"]
    assert settings.CELERY_TASK_SOFT_TIME_LIMIT < settings.CELERY_TASK_TIME_LIMIT < visible_again


def test_kernels_and_threads_are_set_before_numpy():
    assert os.environ["NUMBA_CACHE_DIR"]
    assert os.environ["OPENBLAS_NUM_THREADS"] == "1"


def test_command_refuses_a_bad_variable_in_one_sentence():
    done = subprocess.run(
        [sys.executable, "manage.py", "check"],
        cwd=settings.BASE_DIR,
        env=os.environ | {"PORT": "99999"},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 1
    assert done.stderr == ("Baywind cannot start: PORT is '99999'; accepted: a whole number from 1 to 65535\n")
