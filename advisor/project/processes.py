"""Processes of this machine: which one is meant, whose child it is, and how a group of them ends.

Only the standard library is used here. A process is told by its number and the moment it started, so that a later one
with the same number is never taken for it. A group's number stays taken while any of its processes lives.
"""

from __future__ import annotations

import contextlib
import ctypes
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

_PARENT_DEATH_SIGNAL = 1  # PR_SET_PDEATHSIG of Linux' prctl
_LIBC = ctypes.CDLL(None) if sys.platform == "linux" else None
_PROC = Path("/proc")
_LOOK_EVERY_S = 0.05
_KILL_PATIENCE_S = 5.0


class StartError(Exception):
    """A program that can't be started; the message says why and what to do."""


@dataclass(frozen=True)
class Row:
    """One process as the system lists it; ``started`` differs for each process that ever had this number."""

    pid: int
    group: int
    ended: bool
    started: str


def tie_to_parent() -> Callable[[], None]:
    """Return what a child calls before its program, so that it ends with this process, however that ends.

    Where the system offers no such thing, records of processes (`note`) do this work at the next start.
    """
    return partial(tie_to, os.getpid())


def tie_to(parent: int, number: int = signal.SIGKILL) -> None:
    """Send this process a signal when its parent ends; for processes that are started by somebody else's code."""
    if _LIBC is not None:
        _LIBC.prctl(_PARENT_DEATH_SIGNAL, number)
        if os.getppid() != parent:  # it ended before the call
            os._exit(1)


def rows() -> list[Row]:
    """Return all processes of this machine that this user may see."""
    if _LIBC is None:
        return _rows_of_ps()
    found = (_row(folder) for folder in _PROC.iterdir() if folder.name.isdecimal())
    return [row for row in found if row]


def members(group: int) -> list[int]:
    """Return the processes of a group that still run."""
    return [row.pid for row in rows() if row.group == group and not row.ended]


def note(file: Path, leader: int) -> None:
    """Keep in a file which group this process has started, for whoever comes after it."""
    listed = {row.pid: row for row in rows()}
    if leader not in listed:
        return  # it has ended already
    content = {"leader": _identity(listed[leader]), "owner": _identity(listed[os.getpid()])}
    aside = file.with_name(f"{file.name}.{os.getpid()}")
    aside.write_text(json.dumps(content))
    aside.replace(file)


def owner(file: Path) -> int | None:
    """Return the process that wrote a note, if it still runs."""
    kept = _read(file)
    return kept["owner"]["pid"] if kept and _runs(kept["owner"]) else None


def end_noted(file: Path) -> list[int]:
    """End the group that a note names, if it is still that group; return the processes that were ended."""
    kept = _read(file)
    if kept is None:
        return []
    leader = kept["leader"]
    now = {row.pid: row for row in rows()}.get(leader["pid"])
    if now is not None and _identity(now) != leader:
        return []
    left = members(leader["pid"]) if _boot() == leader["boot"] else []
    end_group(leader["pid"], patience_s=0.0)
    return left


def end_group(leader: int, patience_s: float) -> None:
    """Ask the leader of a group to end with all that it started; after some patience make every process of it end."""
    if patience_s and members(leader):
        _send(os.kill, leader, signal.SIGTERM)
        wait_until(lambda: not members(leader), patience_s)
    if members(leader):
        _send(os.killpg, leader, signal.SIGKILL)
        wait_until(lambda: not members(leader), _KILL_PATIENCE_S)


def wait_until(holds: Callable[[], bool], patience_s: float) -> bool:
    """Wait until something holds; return whether it does."""
    until = time.monotonic() + patience_s
    while not holds():
        if time.monotonic() >= until:
            return False
        time.sleep(_LOOK_EVERY_S)
    return True


def _send(how: Callable[[int, int], None], to: int, number: int) -> None:
    with contextlib.suppress(ProcessLookupError):  # the last one ended in the meantime
        how(to, number)


def _row(folder: Path) -> Row | None:
    try:
        content = (folder / "stat").read_text(errors="replace")
    except (FileNotFoundError, ProcessLookupError):
        return None  # ended while the list was read
    # The program's name, in brackets, may hold anything; what follows does not.
    fields = content.rpartition(")")[2].split()
    return Row(int(folder.name), group=int(fields[2]), ended=fields[0] in "ZX", started=fields[19])


def _rows_of_ps() -> list[Row]:
    listed = subprocess.run(["ps", "-A", "-o", "pid=,pgid=,stat=,lstart="], capture_output=True, text=True, check=True)
    split = (line.split(maxsplit=3) for line in listed.stdout.splitlines())
    return [Row(int(pid), int(group), state.startswith("Z"), started) for pid, group, state, started in split]


def _identity(row: Row) -> dict[str, object]:
    return {"pid": row.pid, "started": row.started, "boot": _boot()}


def _runs(identity: dict[str, object]) -> bool:
    return any(_identity(row) == identity and not row.ended for row in rows())


def _boot() -> str:
    # Linux counts the start of a process from that of the machine.
    file = _PROC / "sys" / "kernel" / "random" / "boot_id"
    return file.read_text().strip() if _LIBC is not None else ""


def _read(file: Path) -> dict | None:
    try:
        return json.loads(file.read_text())
    except FileNotFoundError:
        return None
