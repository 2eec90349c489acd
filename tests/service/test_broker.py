"""The broker of one machine, for real: where it listens, who may reach it, what it forgets, and how it starts again."""

import pytest
from kombu import Connection

from advisor.project.broker import LONGEST_SOCKET_PATH, Broker


@pytest.fixture
def started():
    """Start brokers that end with the test."""
    brokers = []

    def start(data):
        data.mkdir(exist_ok=True)
        brokers.append(Broker(data))
        brokers[-1].start()
        return brokers[-1]

    yield start
    for broker in brokers:
        broker.stop()


@pytest.fixture(params=["socket in a folder", "port"])
def data(request, tmp_path_factory, monkeypatch):
    """A folder with a path that has to be quoted, and one that is too long for a socket."""
    monkeypatch.chdir(tmp_path_factory.getbasetemp())
    folder = tmp_path_factory.mktemp('b w%"')
    return folder if request.param != "port" else folder / ("x" * LONGEST_SOCKET_PATH)


def exchanged(url):
    with Connection(url) as connection, connection.SimpleQueue("words") as queue:
        queue.put("to and fro")
        message = queue.get(timeout=2)
        message.ack()
        return message.payload


def test_message_goes_to_and_fro(started, data):
    assert exchanged(started(data).url) == "to and fro"
