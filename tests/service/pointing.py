"""Within a test: Django's default database and Celery's broker are those of the test's machine."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest import mock

from django.db import connections
from kombu import pools

from advisor.project import env
from advisor.project.celery import app
from tests.service.databases import FILE


@contextmanager
def django_pointed_at(database_url: str, data: Path) -> Iterator[None]:
    """Let every thread's default connection be one to that database; the former one is kept open meanwhile."""
    former = connections["default"]
    with mock.patch.dict(os.environ, DATABASE_URL=database_url):
        wanted = env.database("DATABASE_URL", data / FILE)
    with mock.patch.dict(connections.settings, default=connections.settings["default"] | wanted):
        connections["default"] = connections.create_connection("default")
        try:
            yield
        finally:
            connections["default"].close()
            connections["default"] = former


@contextmanager
def celery_pointed_at(url: str) -> Iterator[None]:
    """Let the task queue of this process send to that broker."""
    former = app.conf.broker_url
    _forget_connections()
    app.conf.broker_url = app.conf.broker_read_url = app.conf.broker_write_url = url
    try:
        yield
    finally:
        _forget_connections()
        app.conf.broker_url = app.conf.broker_read_url = app.conf.broker_write_url = former


def _forget_connections() -> None:
    pools.reset()
    app._pool = None
    app.amqp._producer_pool = None
