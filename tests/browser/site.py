"""The service as people reach it with a browser: web and workers as the supervisor starts them, demo enclosures."""

from __future__ import annotations

import os
import shutil
import signal
import socket
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.service.databases import Databases
from tests.service.machine import Program, apart

DEMO = Path(__file__).parents[2] / "fixtures" / "catalog"
# Twelve boxes of three kinds, with room for graphics, for ten drives and for two: a study of them ends in seconds.
FEW = ("mesh_front_tower", "many_bay_tower", "small_form_sandwich")


@dataclass(frozen=True)
class Site:
    """A service at an address of this machine."""

    address: str
    workers: Program

    @contextmanager
    def held(self) -> Iterator[None]:
        """Let the workers stand still meanwhile, so that a study stays as far as it is."""
        os.killpg(self.workers.process.pid, signal.SIGSTOP)
        try:
            yield
        finally:
            os.killpg(self.workers.process.pid, signal.SIGCONT)


@contextmanager
def site(prepared: Databases, processes: int = 1) -> Iterator[Site]:
    """Start a service over a prepared database; each browser context may be a guest at an address of its own."""
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = probe.getsockname()[1]
    with apart(prepared) as service:
        service.env["PROXIES"] = "1"  # the browser itself says from where it comes
        service.manage("collectstatic", "--noinput", "--verbosity", "0")
        service.start_web(port)
        yield Site(f"http://127.0.0.1:{port}", service.start_workers(processes))


def few_enclosures(folder: Path, names: Iterable[str] = FEW) -> Path:
    """Write a catalogue with all parts of the demo and few of its enclosures."""
    skipped = {file.name for file in (DEMO / "enclosures").iterdir()} - {f"{name}.yaml" for name in names}
    return Path(shutil.copytree(DEMO, folder, ignore=lambda _, found: skipped & set(found), dirs_exist_ok=True))
