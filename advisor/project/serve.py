"""Run the service on this machine: the broker, the workers, the sweep and the web server, until Ctrl-C.

``python -m advisor.project.serve`` is what ``make run`` ends with; ``--only workers,sweep`` starts some of it, for a
machine among several.
"""

from __future__ import annotations

import argparse
import os
import signal
import sys
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TextIO

from django.conf import settings

from advisor.project import processes, programs
from advisor.project.bootstrap import BootstrapError, kernels
from advisor.project.broker import Broker
from advisor.project.broker_address import address, is_free
from advisor.project.env import EnvError
from advisor.project.kept import KeptError, locked, private_folder
from advisor.project.supervisor import PATIENCE_S, Program, Supervisor, launcher

PARTS = ("broker", "workers", "sweep", "web")
SIGN_UP, OWN_ENCLOSURE = "sign-up/", "own/enclosure/"
_PORT_PATIENCE_S = 2.0
_END_PATIENCE_S = PATIENCE_S + 2.0  # a former run may be about to end
_ANYWHERE = ("0.0.0.0", "::")


class CannotServe(Exception):
    """What stands in the way of serving; the message says what to do."""


def main(arguments: Sequence[str] | None = None) -> None:
    options = _options(arguments)
    if options.tied:
        processes.tie_to(os.getppid(), signal.SIGTERM)
    try:
        notes = private_folder(settings.DATA / "processes")
        lock = _alone(settings.DATA / "serving")
        _make_room(notes, options.only)
        if not options.check:
            if "workers" in options.only:
                kernels()  # once, before processes start that would each compile them
            _serve(notes, options)
        os.close(lock)
    except (CannotServe, BootstrapError, EnvError, KeptError) as error:
        sys.exit(f"Baywind cannot start: {error}")


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="serve", description="Run the service on this machine until Ctrl-C.")
    parser.add_argument("--check", action="store_true", help="only say whether it could start")
    parser.add_argument("--empty", action="store_true", help="say where to enter the first enclosure")
    parser.add_argument("--tied", action="store_true", help="end when the program that started this one ends")
    parser.add_argument("--only", type=_parts, default=PARTS, metavar="PARTS", help=f"some of {','.join(PARTS)}")
    return parser.parse_args(arguments)


def _parts(text: str) -> tuple[str, ...]:
    chosen = tuple(text.split(","))
    if not set(chosen) <= set(PARTS):
        raise argparse.ArgumentTypeError(f"'{text}' names something else than {', '.join(PARTS)}")
    return chosen


def _alone(file: Path) -> int:
    """Return a lock that ends with this process, however that ends; refuse where another one holds on to it."""
    lock = os.open(file, os.O_RDWR | os.O_CREAT, 0o600)
    if not processes.wait_until(lambda: locked(lock), _END_PATIENCE_S):
        raise CannotServe(
            f"it runs already on the data folder {settings.DATA}, {file.read_text()}; stop that one, or set "
            "BAYWIND_DATA to another folder"
        )
    os.truncate(lock, 0)
    os.write(lock, f"as process {os.getpid()} at {_where()}".encode())
    return lock


def _make_room(notes: Path, parts: Sequence[str]) -> None:
    """End what a killed run has left, and see whether the port is free then."""
    left = [pid for note in notes.iterdir() for pid in processes.end_noted(note)]
    if left:
        _print(f"Ended {len(left)} processes that a killed run had left.", sys.stderr)
    if "web" not in parts or processes.wait_until(lambda: is_free(settings.LISTEN, settings.PORT), _PORT_PATIENCE_S):
        return
    raise CannotServe(
        f"port {settings.PORT} is used by another program; stop that one, or choose another port from 1 to 65535, as "
        f"in: make run PORT={settings.PORT % 65535 + 1}"
    )


def _serve(notes: Path, options: argparse.Namespace) -> None:
    width = max(map(len, PARTS))
    welcome = iter([_welcome(options.empty)])  # each process of the web server says that it is ready

    def say(name: str, line: str) -> None:
        _print(f"{name:{width}} | {line}", sys.stderr)
        if name == "web" and programs.READY["web"] in line:
            for text in welcome:
                _print(text, sys.stdout)

    Supervisor(list(_programs(options.only)), notes, say).run()


def _programs(parts: Sequence[str]) -> Iterator[Program]:
    # The broker comes first: where it has no socket, it decides on its port before anybody asks for it.
    if "broker" in parts and address(settings.DATA) == settings.REDIS_URL:
        broker = Broker(settings.DATA)
        yield Program("broker", broker.launch, last_words=lambda: f"({broker.last_words()})", needed_last=True)
    start = partial(launcher, folder=settings.BASE_DIR, env=os.environ | {"PYTHONUNBUFFERED": "1"})
    commands = {"workers": programs.workers(settings.WORKERS), "sweep": programs.sweep(), "web": programs.web()}
    yield from (Program(name, start(command)) for name, command in commands.items() if name in parts)


def _where() -> str:
    host = "localhost" if settings.LISTEN in _ANYWHERE else settings.LISTEN
    return f"http://{f'[{host}]' if ':' in host else host}:{settings.PORT}/"


def _welcome(empty: bool) -> str:
    lines = [f"Baywind answers at {_where()} (Ctrl-C ends it)."]
    if empty:
        lines += [
            "No demo parts were loaded. Start with an enclosure of your own, from tape measure and photograph:",
            f"  1. make an account at {_where()}{SIGN_UP}",
            f"  2. enter the enclosure at {_where()}{OWN_ENCLOSURE}",
        ]
    return "\n".join(["", *lines, ""])


def _print(text: str, stream: TextIO) -> None:
    try:
        print(text, file=stream, flush=True)
    except BrokenPipeError:
        # Whoever read this has gone; the service goes on.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


if __name__ == "__main__":
    main()
