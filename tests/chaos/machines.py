"""A machine as a person runs it: the supervisor with all its programs, asked over HTTP like by anybody else."""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any
from urllib.request import Request, urlopen

import psutil

from advisor.models import Chunk, ChunkState, Outcome
from advisor.project import processes
from tests.service.machine import Program, Service

SERVE = [sys.executable, "-m", "advisor.project.serve"]
READY = "Baywind answers at"
ANSWER_S = 60.0
LOOK_EVERY_S = 0.02
NO_HEADERS: Mapping[str, str] = {}
WORKERS = 2


@dataclass
class Home:
    """``machine`` with a supervisor that listens on ``port``."""

    machine: Service
    port: int

    def serve(self) -> Program:
        """Start the supervisor and wait until the web and the workers are there."""
        started = self.machine.start("serve", SERVE, READY)
        return started.wait_for("celery@").wait_for(" ready.")

    def ask(self, method: str, address: str, body: Mapping[str, Any] | None = None, **headers: str) -> Any:
        """Send a request and return the JSON of the answer."""
        with self._answer(method, address, body, headers) as answer:
            return json.load(answer)

    def version(self, address: str) -> str:
        """Return the ETag of something."""
        with self._answer("GET", address) as answer:
            return answer.headers["ETag"]

    def _answer(self, method: str, address: str, body: Any = None, headers: Mapping[str, str] = NO_HEADERS) -> Any:
        url = address if address.startswith("http") else f"http://127.0.0.1:{self.port}/api/v1/{address}"
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        content = None if body is None else json.dumps(body).encode()
        asked = Request(url, content, {"Content-Type": "application/json", "Accept": "application/json"} | named)
        asked.method = method
        return urlopen(asked, timeout=ANSWER_S)

    def pid(self, name: str) -> int:
        """Return the first process of one of the supervisor's programs."""
        return json.loads((self.machine.data / "processes" / name).read_text())["leader"]["pid"]

    def children(self) -> list[int]:
        """Return the processes that score."""
        leader = self.pid("workers")
        return [pid for pid in processes.members(leader) if pid != leader]

    def wait_until_done(self, address: str, since: float, patience_s: float) -> float:
        """Poll a study as a reader does; return the seconds from a moment to its answer."""
        while True:
            standing = self.ask("GET", address)["status"]
            took = time.monotonic() - since
            if standing == "done":
                return took
            assert standing in ("queued", "running") and took < patience_s, f"{standing} after {took:.0f} s"
            time.sleep(0.5)


def in_mid_study(outcome: Outcome) -> bool:
    """Tell whether some chunks are done, each worker holds one, and some are left."""
    states = [chunk.state for chunk in Chunk.objects.of_outcome(outcome.pk).defer("result")]
    return (
        states.count(ChunkState.RUNNING) == WORKERS
        and states.count(ChunkState.DONE) > 0
        and {ChunkState.WAITING, ChunkState.QUEUED} <= set(states)
    )


@contextmanager
def held_in_mid_study(home: Home, outcome: Outcome, patience_s: float = 60.0) -> Iterator[list[int]]:
    """Stop all that score, at a moment when each of them is at work on a chunk; go on afterwards."""
    until = time.monotonic() + patience_s
    while time.monotonic() < until:
        if in_mid_study(outcome):
            scorers = home.children()
            _send(scorers, signal.SIGSTOP)
            try:
                # One that was about to commit does so before it stops.
                if _come_to(scorers, psutil.STATUS_STOPPED) and in_mid_study(outcome):
                    yield scorers
                    return
            finally:
                _send(scorers, signal.SIGCONT)
        time.sleep(LOOK_EVERY_S)
    raise AssertionError(f"never found in mid-study: {outcome}")


def all_ended(pids: list[int]) -> bool:
    """Wait until processes have ended; return whether they have."""
    return processes.wait_until(lambda: not {row.pid for row in processes.rows() if not row.ended} & set(pids), 5.0)


def _come_to(pids: list[int], status: str) -> bool:
    return processes.wait_until(lambda: all(psutil.Process(pid).status() == status for pid in pids), 5.0)


def _send(scorers: list[int], number: int) -> None:
    living = {row.pid for row in processes.rows() if not row.ended}
    for pid in living.intersection(scorers):
        os.kill(pid, number)
