"""A whole machine for one test: its data folder, migrated database, small catalogue, broker and real processes.

``service`` is the fixture; in the test itself, Django's database and Celery's broker are those of that machine too.
"""

from __future__ import annotations

import fcntl
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from pytest_django import DjangoDbBlocker
from redis import Redis

from advisor.project import processes, programs
from advisor.project.bootstrap import kernels
from advisor.project.broker import Broker
from tests.service.databases import Databases, databases
from tests.service.pointing import celery_pointed_at, django_pointed_at

CATALOG = Path(__file__).parents[1] / "catalog" / "data"
READY_PATIENCE_S = 60.0


@dataclass
class Program:
    """A program of the service that runs in a group of its own."""

    name: str
    process: subprocess.Popen[bytes]
    log: Path

    def words(self) -> str:
        """Return what it has printed so far."""
        return self.log.read_text(errors="replace")

    def children(self) -> list[int]:
        """Return the processes of its group that live, but for the first one."""
        return [pid for pid in processes.members(self.process.pid) if pid != self.process.pid]

    def wait_for(self, words: str, patience_s: float = READY_PATIENCE_S) -> Program:
        """Wait until it has printed some words; its log is shown when it does not."""
        seen = processes.wait_until(lambda: words in self.words() or self.process.poll() is not None, patience_s)
        assert seen and words in self.words(), f"{self.name} never said '{words}':\n{self.words()}"
        return self

    def stop(self, patience_s: float = 5.0) -> None:
        """Ask it to end, then make it."""
        processes.end_group(self.process.pid, patience_s)
        self.process.wait()

    def kill(self) -> None:
        """End its whole group with SIGKILL."""
        self.stop(patience_s=0.0)


@dataclass
class Service:
    """A machine of its own: ``data`` is its folder, ``env`` what its processes are started with."""

    data: Path
    env: dict[str, str]
    broker: Broker | None
    programs: list[Program] = field(default_factory=list)

    def manage(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        """Run a command of manage.py to its end; failing fails the test with its output."""
        return _manage(self.env, *arguments)

    def start(self, name: str, command: list[str], ready: str = "", **env: str) -> Program:
        """Start a program in its own group and wait for the words that say it is ready."""
        log = self.data / f"{name}-{len(self.programs)}.log"
        with log.open("wb") as output:
            process = subprocess.Popen(
                command,
                cwd=settings.BASE_DIR,
                env=self.env | env,
                stdin=subprocess.DEVNULL,
                stdout=output,
                stderr=subprocess.STDOUT,
                start_new_session=True,
                preexec_fn=processes.tie_to_parent(),
            )
        self.programs.append(Program(name, process, log))
        return self.programs[-1].wait_for(ready)

    def start_workers(self, count: int = 2, **env: str) -> Program:
        """Start a worker group of so many processes and wait until it takes tasks."""
        return self.start("workers", programs.workers(count), programs.READY["workers"], **env)

    def start_sweep(self) -> Program:
        return self.start("sweep", programs.sweep())

    def start_web(self, port: int) -> Program:
        return self.start("web", programs.web(), programs.READY["web"], PORT=str(port))

    def close(self) -> None:
        """End everything that was started here."""
        for program in self.programs:
            program.kill()
        if self.broker:
            self.broker.stop()


def _manage(env: dict[str, str], *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "manage.py", *arguments]
    done = subprocess.run(command, cwd=settings.BASE_DIR, env=env, capture_output=True, text=True)
    assert done.returncode == 0, f"manage.py {' '.join(arguments)} ended with {done.returncode}:\n{done.stderr}"
    return done


def _environment(data: Path, database_url: str, broker_url: str) -> dict[str, str]:
    """Return the environment of the real service; kernels stay where they are compiled already."""
    own = {"BAYWIND_DATA": str(data), "DATABASE_URL": database_url, "REDIS_URL": broker_url}
    own |= {"DJANGO_SETTINGS_MODULE": "advisor.project.settings", "WORKERS": "2", "PYTHONUNBUFFERED": "1"}
    return os.environ | own


@contextmanager
def _one_at_a_time(file: Path) -> Iterator[None]:
    with file.open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session")
def prepared(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Databases:
    """A database with tables and the small catalogue, made once, of which each machine gets a copy; and kernels."""
    base = tmp_path_factory.getbasetemp()
    return prepare(base if worker_id == "master" else base.parent, CATALOG)


def prepare(shared: Path, catalog: Path) -> Databases:
    """Make a database with tables and a catalogue, and the pages' files, unless another pytest process has."""
    made = databases(shared)
    with _one_at_a_time(shared / "prepared.lock"):
        if not made.prepared():
            kernels()  # workers that compile would look like workers that hang
            env = _environment(shared, made.begin(), "")
            _manage(env, "migrate", "--verbosity", "0")
            _manage(env, "load_catalog", str(catalog))
            _manage(env, "collectstatic", "--noinput", "--verbosity", "0")
            made.finish()
    return made


def _given_broker(worker_id: str) -> str:
    """Return the address of a broker that was started apart: a database of each pytest process's own, emptied."""
    given = os.environ.get("REDIS_URL", "")
    if not given:
        return ""
    number = 0 if worker_id == "master" else 1 + int(worker_id.removeprefix("gw"))
    own = urlsplit(given)._replace(path=f"/{number}").geturl()
    with Redis.from_url(own) as client:
        client.flushdb()
    return own


@pytest.fixture
def service(prepared: Databases, worker_id: str, django_db_blocker: DjangoDbBlocker) -> Iterator[Service]:
    """A machine with a database, the small catalogue and a running broker; programs are started by the test."""
    with machine(prepared, _given_broker(worker_id), django_db_blocker) as made:
        yield made


@contextmanager
def machine(prepared: Databases, given: str, blocker: DjangoDbBlocker) -> Iterator[Service]:
    """Give a machine as ``apart`` does, at which Django and Celery of this process are pointed, too."""
    with apart(prepared, given) as made:
        url = made.broker.url if made.broker else given
        shared = django_pointed_at(made.env["DATABASE_URL"], made.data)
        with blocker.unblock(), shared, celery_pointed_at(url):
            yield made


@contextmanager
def apart(prepared: Databases, given: str = "") -> Iterator[Service]:
    """Give a machine with a copy of a database, and a broker of its own unless one is given by its address."""
    data = Path(tempfile.mkdtemp(prefix="baywind-"))  # short, so that a socket fits
    (data / "static").symlink_to(prepared.folder / "static")
    broker = None if given else Broker(data)
    with prepared.copy(data) as database_url:
        made = Service(data, _environment(data, database_url, given), broker)
        try:
            if broker:
                broker.start()
            yield made
        finally:
            made.close()
    shutil.rmtree(data)
