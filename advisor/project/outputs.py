"""What programs print, line by line, and signals: the two things that a supervisor sleeps on."""

from __future__ import annotations

import os
import selectors
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import IO, Any

Say = Callable[[str, str], None]
_CHUNK = 65536
_LAST_ROUNDS = 100  # somebody who goes on printing is not waited for


@dataclass
class _Source:
    name: str
    pipe: IO[bytes]
    unfinished: bytes = b""


class Outputs:
    """Pipes of programs; ``say`` takes a program's name and a line of it."""

    def __init__(self, say: Say) -> None:
        self.say = say
        self._selector = selectors.DefaultSelector()

    def watch(self, name: str, pipe: IO[bytes]) -> None:
        """Pass on what comes out of a pipe, from now until its end."""
        os.set_blocking(pipe.fileno(), False)
        self._selector.register(pipe, selectors.EVENT_READ, _Source(name, pipe))

    def wait(self, longest_s: float) -> None:
        """Sleep until something is printed or a signal comes, and pass on what is there."""
        for key, _ in self._selector.select(longest_s):
            if key.data is None:
                os.read(key.fd, _CHUNK)
            else:
                self._read(key.data)

    def drain(self) -> None:
        """Pass on what has been printed so far."""
        for _ in range(_LAST_ROUNDS):
            if not self._selector.select(0):
                return
            self.wait(0)

    def close(self) -> None:
        """Pass on what is left and close the pipes."""
        self.drain()
        for key in list(self._selector.get_map().values()):
            self._end(key.data)
        self._selector.close()

    @contextmanager
    def signals(self, numbers: Sequence[int], stop: Callable[[], None]) -> Iterator[None]:
        """Let signals call ``stop``, and let them and the end of programs wake whoever sleeps in `wait`."""
        reader, writer = os.pipe()
        for end in (reader, writer):
            os.set_blocking(end, False)
        self._selector.register(reader, selectors.EVENT_READ, None)
        former_pipe = signal.set_wakeup_fd(writer, warn_on_full_buffer=False)
        former: dict[int, Any] = {number: signal.signal(number, lambda *_: stop()) for number in numbers}
        former[signal.SIGCHLD] = signal.signal(signal.SIGCHLD, lambda *_: None)
        try:
            yield
        finally:
            for number, handler in former.items():
                signal.signal(number, handler)
            signal.set_wakeup_fd(former_pipe)
            self._selector.unregister(reader)
            os.close(reader)
            os.close(writer)

    def _read(self, source: _Source) -> None:
        chunk = os.read(source.pipe.fileno(), _CHUNK)
        *lines, source.unfinished = (source.unfinished + chunk).split(b"\n")
        for line in filter(None, lines):
            self.say(source.name, line.decode(errors="replace").rstrip())
        if not chunk:
            self._end(source)

    def _end(self, source: _Source) -> None:
        if source.unfinished:
            self.say(source.name, source.unfinished.decode(errors="replace"))
        self._selector.unregister(source.pipe)
        source.pipe.close()
