"""Real processes for the tests of this folder."""

import socket

import pytest

from tests.service.machine import prepared, service

__all__ = ["prepared", "service"]


@pytest.fixture
def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]
