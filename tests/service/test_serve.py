"""The whole service as a person starts it: it answers, mends itself, and leaves nothing behind, however it ends."""

import os
import re
import shutil
import signal
import socket
import subprocess
import sys
from urllib.request import urlopen

import psutil
import pytest
from django.conf import settings
from django.urls import reverse

from advisor.project import processes, programs, serve
from tests.service.machine import Service

pytestmark = pytest.mark.slow

SERVE = [sys.executable, "-m", "advisor.project.serve"]
WITHOUT_TIES = "from advisor.project import processes, serve; processes._LIBC = None; serve.main()"
READY = "Baywind answers at"


@pytest.fixture
def home(service: Service, free_port):
    """A machine whose own supervisor starts the broker."""
    if service.broker:
        service.broker.stop()
    service.env |= {"REDIS_URL": "", "PORT": str(free_port), "WORKERS": "1"}
    return service


def descendants(pid):
    return {child.pid for child in psutil.Process(pid).children(recursive=True)}


def living(pids):
    return {row.pid for row in processes.rows() if row.pid in pids and not row.ended}


def status_of_start(port):
    with urlopen(f"http://127.0.0.1:{port}/", timeout=20) as answer:
        return answer.status


def test_service_answers_mends_itself_survives_a_hard_end_and_ends_in_order(home, free_port):
    first = home.start("first", SERVE, READY)
    assert status_of_start(free_port) == 200

    workers = int(re.search(r"(\d+)", (home.data / "processes" / "workers").read_text())[1])
    os.killpg(workers, signal.SIGKILL)
    first.wait_for("workers | ended with code -9; starting again in 0.5 s")

    family = descendants(first.process.pid)
    first.process.kill()
    first.process.wait()
    assert processes.wait_until(lambda: not living(family), 3), home.data

    second = home.start("second", SERVE, READY).wait_for(programs.READY["workers"])
    assert status_of_start(free_port) == 200
    family = descendants(second.process.pid)
    assert len(family) >= 6  # broker, workers and one process, web and one process
    second.process.send_signal(signal.SIGINT)
    assert second.process.wait(8) == 0
    assert living(family) == set()
    assert list((home.data / "processes").iterdir()) == []


@pytest.mark.skipif(shutil.which("ps") is None, reason="where there are no ties, ps lists processes")
def test_leftovers_are_ended_where_the_system_has_no_ties(home, free_port):
    command = [sys.executable, "-c", WITHOUT_TIES, "--only", "broker,web"]
    first = home.start("first", command, READY)
    family = descendants(first.process.pid)
    first.process.kill()
    first.process.wait()
    broker_and_web = 2
    assert len(living(family)) >= broker_and_web
    second = home.start("second", command, READY)
    assert living(family) == set()
    assert re.search(r"Ended \d+ processes that a killed run had left", second.words())
    second.process.send_signal(signal.SIGTERM)
    assert second.process.wait(8) == 0


def test_it_ends_with_the_program_that_started_it_if_told_to(home):
    whoever = ["sh", "-c", '"$@"; true', "sh", *SERVE, "--tied", "--only", "broker,sweep"]
    shell = home.start("shell", whoever)
    assert processes.wait_until(lambda: len(descendants(shell.process.pid)) >= 3, 20), shell.words()
    family = descendants(shell.process.pid)
    shell.process.kill()
    assert processes.wait_until(lambda: not living(family), 8)


def refused(home, *arguments):
    done = subprocess.run([*SERVE, *arguments], cwd=settings.BASE_DIR, env=home.env, capture_output=True, text=True)
    assert done.returncode == 1
    return done.stderr


def test_port_in_use_is_told_in_one_sentence(home, free_port):
    with socket.create_server(("127.0.0.1", free_port)):
        assert refused(home, "--check") == (
            f"Baywind cannot start: port {free_port} is used by another program; stop that one, or choose another port "
            f"from 1 to 65535, as in: make run PORT={free_port + 1}\n"
        )


def test_second_run_on_one_folder_is_told_where_the_first_is(home, free_port):
    first = home.start("first", [*SERVE, "--only", "broker"])
    serving = home.data / "serving"
    assert processes.wait_until(lambda: serving.exists() and serving.read_text(), 10)
    assert refused(home) == (
        f"Baywind cannot start: it runs already on the data folder {home.data}, as process {first.process.pid} at "
        f"http://127.0.0.1:{free_port}/; stop that one, or set BAYWIND_DATA to another folder\n"
    )


def test_bad_variable_is_told_in_one_sentence(home):
    home.env["PORT"] = "eight thousand"
    assert refused(home) == (
        "Baywind cannot start: PORT is 'eight thousand'; accepted: a whole number from 1 to 65535\n"
    )


@pytest.mark.parametrize(
    ("path", "route"), [(serve.SIGN_UP, "pages:sign-up"), (serve.OWN_ENCLOSURE, "pages:own-enclosure")]
)
def test_addresses_that_an_empty_catalogue_leads_to_exist(path, route):
    assert f"/{path}" == reverse(route)
