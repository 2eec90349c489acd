"""Machines over the demo catalogue, as `make run` starts them, and the figures that are measured here."""

import pytest
from django.conf import settings

from tests.chaos.machines import Home
from tests.postgres import running_server
from tests.service.conftest import free_port
from tests.service.machine import CATALOG, machine, prepare, prepared, service

__all__ = ["free_port", "prepared", "service"]

_measured: list[str] = []


@pytest.fixture
def measured(request):
    """Note a figure; all are shown at the end."""
    return lambda text: _measured.append(f"{request.node.name}: {text}")


def pytest_terminal_summary(terminalreporter):
    terminalreporter.section("measured")
    for line in _measured:
        terminalreporter.line(line)


@pytest.fixture(scope="session")
def prepared_demo(tmp_path_factory):
    """A database with the demo catalogue, made once."""
    return prepare(tmp_path_factory.mktemp("demo"), settings.BASE_DIR / "fixtures" / "catalog")


@pytest.fixture
def demo(prepared_demo, django_db_blocker):
    """A machine with the demo catalogue."""
    with machine(prepared_demo, "", django_db_blocker) as made:
        yield made


@pytest.fixture
def home(demo, free_port):
    """A machine with the demo catalogue whose own supervisor starts everything."""
    demo.broker.stop()
    demo.env |= {"REDIS_URL": "", "PORT": str(free_port), "WORKERS": "2"}
    return Home(demo, free_port)


@pytest.fixture
def on_postgres(tmp_path, monkeypatch, django_db_blocker):
    """A machine with the small catalogue in a PostgreSQL of its own."""
    with running_server() as url:
        monkeypatch.setenv("DATABASE_URL", url)
        with machine(prepare(tmp_path, CATALOG), "", django_db_blocker) as made:
            yield made
