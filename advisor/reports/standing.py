"""How far a study has come, as it is told to people."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any


@dataclass(frozen=True, slots=True)
class StudyStatus:
    """A study at one moment.

    ``status`` is one of ``advisor.states.State``. ``done`` and ``total`` count candidates, ``chunks_done`` and
    ``chunks_total`` enclosures. ``record`` is what was found, None until the study is done; ``failure`` says why it
    never will be, empty unless it failed. ``finished_at`` is when its outcome was answered or given up.
    """

    status: str
    done: int
    total: int
    chunks_done: int
    chunks_total: int
    record: Mapping[str, Any] | None = None
    failure: str = ""
    finished_at: datetime | None = None
