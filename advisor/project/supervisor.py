"""Keep programs running: one loop that starts them, passes on what they print, starts them again, and ends them all.

There are no threads: the loop sleeps until a program prints, one ends, a signal comes or a start is due. Each program
leads a group of its own, so that Ctrl-C reaches this process alone, and so that whatever a program has started ends
with it. When this process is killed, its programs are too; where the system has no such tie, notes in a folder lead
the next run to them.
"""

from __future__ import annotations

import signal
import subprocess
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from advisor.project import processes
from advisor.project.outputs import Outputs, Say

FIRST_DELAY_S, LONGEST_DELAY_S = 0.5, 30.0
STEADY_S = 20.0  # whoever ran this long starts again after the first delay
PATIENCE_S = 4.0  # from being asked to end to being made to
_STOPPING = (signal.SIGINT, signal.SIGTERM, signal.SIGHUP)

Launch = Callable[[], "subprocess.Popen[bytes]"]


@dataclass
class Program:
    """A program to keep running.

    ``launch`` starts it; ``last_words`` tells what it left elsewhere than in its output; one that is ``needed_last``
    ends after all others.
    """

    name: str
    launch: Launch
    last_words: Callable[[], str] = lambda: ""
    needed_last: bool = False
    process: subprocess.Popen[bytes] | None = None
    due: float = 0.0
    started: float = 0.0
    delay_s: float = FIRST_DELAY_S


def launcher(command: Sequence[str], folder: Path, env: dict[str, str]) -> Launch:
    """Return what starts a command in a group of its own, tied to this process, with its output in a pipe."""

    def launch() -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            command,
            cwd=folder,
            env=env,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            start_new_session=True,
            preexec_fn=processes.tie_to_parent(),
        )

    return launch


class Supervisor:
    """Programs under one loop; ``say`` takes a program's name and a line of it, ``notes`` is a folder."""

    def __init__(self, programs: Sequence[Program], notes: Path, say: Say) -> None:
        self.programs = programs
        self.notes = notes
        self.say = say
        self._outputs = Outputs(say)
        self._stopping = self._impatient = False

    def run(self) -> None:
        """Keep all programs running until a signal or `stop` says to end; return once all have ended."""
        with self._outputs.signals(_STOPPING, self.stop):
            while not self._stopping:
                self._start_due()
                self._outputs.wait(self._sleep_s())
                self._plan_for_the_ended()
            self._end_all()
        self._outputs.close()

    def stop(self) -> None:
        """End all programs; asked a second time, at once."""
        self._impatient = self._stopping
        self._stopping = True

    def _start_due(self) -> None:
        for program in self.programs:
            if program.process is None and time.monotonic() >= program.due:
                self._start(program)

    def _start(self, program: Program) -> None:
        try:
            program.process = program.launch()
        except (OSError, processes.StartError) as error:
            self._plan(program, f"could not be started: {error}")
            return
        program.started = time.monotonic()
        processes.note(self.notes / program.name, program.process.pid)
        if program.process.stdout is not None:
            self._outputs.watch(program.name, program.process.stdout)

    def _sleep_s(self) -> float:
        waiting = [program.due for program in self.programs if program.process is None]
        return max(0.0, min(waiting, default=time.monotonic() + LONGEST_DELAY_S) - time.monotonic())

    def _plan_for_the_ended(self) -> None:
        for program in self.programs:
            if program.process is None or program.process.poll() is None:
                continue
            self._outputs.drain()
            processes.end_group(program.process.pid, patience_s=0.0)  # what it has left behind
            (self.notes / program.name).unlink(missing_ok=True)
            if time.monotonic() - program.started >= STEADY_S:
                program.delay_s = FIRST_DELAY_S
            self._plan(program, f"ended with code {program.process.returncode}")
            program.process = None

    def _plan(self, program: Program, what: str) -> None:
        self.say(program.name, f"{what}; starting again in {program.delay_s:g} s {program.last_words()}".rstrip())
        program.due = time.monotonic() + program.delay_s
        program.delay_s = min(2 * program.delay_s, LONGEST_DELAY_S)

    def _end_all(self) -> None:
        running = [(program, program.process) for program in self.programs if program.process]
        for last in (False, True):
            self._end([process for program, process in running if program.needed_last is last])
        for program, _ in running:
            (self.notes / program.name).unlink(missing_ok=True)

    def _end(self, running: Sequence[subprocess.Popen[bytes]]) -> None:
        """Ask programs to end, together; read on meanwhile, since a full pipe would hold them; then make them."""
        for process in running:
            process.terminate()
        until = time.monotonic() + PATIENCE_S
        while any(process.poll() is None for process in running) and not self._impatient and time.monotonic() < until:
            self._outputs.wait(0.1)
        for process in running:
            processes.end_group(process.pid, patience_s=0.0)
            process.wait()
