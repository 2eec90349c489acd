"""Answers as they were last written, in each process: an answer never changes once it is there."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from threading import Lock

PAGES_KEPT = 64  # about 0.1 MB each


@dataclass(frozen=True, slots=True)
class Written:
    """What a page says beside its frame, which depends on who looks: its title, and its body as safe markup."""

    title: str
    body: str


class Kept:
    """The pages written last, by what they were written from."""

    def __init__(self, most: int = PAGES_KEPT) -> None:
        self._most = most
        self._pages: OrderedDict[Hashable, Written] = OrderedDict()
        self._lock = Lock()

    def page(self, key: Hashable, write: Callable[[], Written]) -> Written:
        """Return the page of a key, written now unless it is kept; what ``write`` raises is not kept."""
        with self._lock:
            if key in self._pages:
                self._pages.move_to_end(key)
                return self._pages[key]
        written = write()
        with self._lock:
            self._pages[key] = written
            while len(self._pages) > self._most:
                self._pages.popitem(last=False)
        return written
