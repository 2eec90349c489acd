"""The broker of one machine, for real: where it listens, who may reach it, what it forgets, and how it starts again."""

import os
import shutil
import signal
import socket
import stat
import subprocess
import sys
from urllib.parse import urlsplit

import psutil
import pytest
from django.conf import settings
from kombu import Connection
from redis import Redis
from redis.backoff import NoBackoff
from redis.exceptions import AuthenticationError
from redis.retry import Retry

from advisor.project import broker as broker_module
from advisor.project import processes
from advisor.project.broker import Broker, BrokerError
from advisor.project.broker_address import LONGEST_SOCKET_PATH

STARTED_BY_ANOTHER = """
import sys
from pathlib import Path
from advisor.project import processes
from advisor.project.broker import Broker
if sys.argv[2] == "no ties":
    processes._LIBC = None
broker = Broker(Path(sys.argv[1]))
broker.start()
print(broker.process.pid, flush=True)
sys.stdin.read()
"""


@pytest.fixture
def started():
    """Start brokers that end with the test."""
    brokers = []

    def start(data):
        brokers.append(Broker(data))
        brokers[-1].start()
        return brokers[-1]

    yield start
    for broker in brokers:
        broker.stop()


@pytest.fixture
def short(tmp_path_factory):
    """A folder with a path that has to be quoted, and room for a socket."""
    return tmp_path_factory.mktemp('b w%"')


@pytest.fixture
def long(tmp_path):
    """A folder with a path that is too long for a socket."""
    folder = tmp_path / ("x" * LONGEST_SOCKET_PATH)
    folder.mkdir()
    return folder


@pytest.fixture(params=["short", "long"])
def data(request):
    return request.getfixturevalue(request.param)


def exchanged(url):
    with Connection(url) as connection, connection.SimpleQueue("words") as queue:
        queue.put("to and fro")
        message = queue.get(timeout=2)
        message.ack()
        return message.payload


def client_of(broker):
    with Connection(broker.url) as connection:
        return connection.channel().client


def test_message_goes_to_and_fro(started, data):
    assert exchanged(started(data).url) == "to and fro"


def test_short_path_listens_on_a_socket_alone(started, short):
    broker = started(short)
    assert broker.url.startswith("redis+socket://")
    assert client_of(broker).config_get("port") == {"port": "0"}


def test_folder_and_files_with_secrets_are_for_this_user_alone(started, data):
    folder = started(data).folder
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    secret = [folder / "server.conf", *folder.glob("address"), *folder.glob("*.sock")]
    assert [file.name for file in secret if stat.S_IMODE(file.stat().st_mode) & 0o077] == []


def test_port_asks_for_the_password(started, long):
    port = urlsplit(started(long).url).port
    with pytest.raises(AuthenticationError):
        Redis(port=port, retry=Retry(NoBackoff(), 0)).ping()


def test_password_is_on_no_command_line(started, long):
    broker = started(long)
    shown = " ".join(psutil.Process(broker.process.pid).cmdline())
    assert f"127.0.0.1:{urlsplit(broker.url).port}" in shown
    assert urlsplit(broker.url).password not in shown


def test_it_drops_nothing_to_save_memory(started, short):
    client = client_of(started(short))
    assert client.config_get("maxmemory-policy") == {"maxmemory-policy": "noeviction"}
    assert 0 < int(client.config_get("maxmemory")["maxmemory"]) < 2**30


def test_it_keeps_nothing_on_disk(started, short):
    broker = started(short)
    client_of(broker).set("word", "for now")
    broker.stop()
    broker.start()
    assert client_of(broker).get("word") is None


def test_second_one_in_a_folder_is_refused(started, data):
    first = started(data)
    with pytest.raises(BrokerError, match=rf"already runs in .*, started by process {os.getpid()}; end that first"):
        started(data)
    assert exchanged(first.url) == "to and fro"


def test_it_starts_again_after_a_hard_end(started, data):
    broker = started(data)
    broker.process.kill()
    broker.process.wait()
    broker.start()
    assert exchanged(broker.url) == "to and fro"


def test_port_that_another_program_took_is_changed(started, long):
    former = Broker(long).url
    with socket.create_server(("127.0.0.1", urlsplit(former).port)):
        broker = started(long)
        assert broker.url != former
        assert exchanged(broker.url) == "to and fro"


WITHOUT_PS = pytest.mark.skipif(shutil.which("ps") is None, reason="where there are no ties, ps lists processes")


@pytest.mark.parametrize("ties", ["ties", pytest.param("no ties", marks=WITHOUT_PS)])
def test_leftover_of_a_killed_run_does_not_stand_in_the_way(started, short, ties, monkeypatch):
    if ties == "no ties":  # as on a system that offers none
        monkeypatch.setattr(processes, "_LIBC", None)
    other = subprocess.Popen(
        [sys.executable, "-c", STARTED_BY_ANOTHER, short, ties],
        cwd=settings.BASE_DIR,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    leftover = int(other.stdout.readline())
    other.send_signal(signal.SIGKILL)
    other.communicate()
    if ties == "ties":  # it has ended by itself
        assert processes.wait_until(lambda: not processes.members(leftover), 2)
    else:
        assert processes.members(leftover) == [leftover]
    assert exchanged(started(short).url) == "to and fro"
    assert processes.members(leftover) == []


def test_server_that_ends_at_once_is_told_with_its_last_words(started, short, monkeypatch, tmp_path):
    monkeypatch.setattr(broker_module, "MEMORY", "a lot")
    with pytest.raises(BrokerError, match=r"The broker ended at once \(1\)"):
        started(short)


def test_machine_without_any_server_is_told_what_to_install(monkeypatch):
    monkeypatch.setattr(broker_module, "_of_wheel", lambda: None)
    monkeypatch.setenv("PATH", "/nowhere")
    with pytest.raises(BrokerError, match="install one .* or set REDIS_URL"):
        broker_module.program()


def test_server_on_the_path_is_the_second_choice(monkeypatch, tmp_path):
    monkeypatch.setattr(broker_module, "_of_wheel", lambda: None)
    monkeypatch.setenv("PATH", str(tmp_path))
    own = tmp_path / "redis-server"
    own.touch(mode=0o755)
    assert broker_module.program() == str(own)
