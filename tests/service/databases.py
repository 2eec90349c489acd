"""One prepared database, and cheap copies of it: SQLite files, or databases of the server that DATABASE_URL names."""

from __future__ import annotations

import os
import shutil
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol
from urllib.parse import urlsplit

FILE = "baywind.sqlite3"


class Databases(Protocol):
    """Where prepared databases come from, out of a folder; addresses are what DATABASE_URL would hold."""

    folder: Path

    def prepared(self) -> bool: ...

    def begin(self) -> str: ...

    def finish(self) -> None: ...

    def copy(self, data: Path) -> Iterator[str]: ...


def databases(folder: Path) -> Databases:
    """Return those of the database that the tests run on; ``folder`` is shared by all pytest processes of a run."""
    url = os.environ.get("DATABASE_URL", "")
    return OnServer(url, folder) if url else InFiles(folder)


class InFiles:
    """SQLite: the prepared file is copied."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.begun, self.done = folder, folder / FILE, folder / "prepared.sqlite3"

    def prepared(self) -> bool:
        return self.done.exists()

    def begin(self) -> str:
        return ""

    def finish(self) -> None:
        # The last connection to close has written everything from the log ahead into the file.
        self.begun.rename(self.done)

    @contextmanager
    def copy(self, data: Path) -> Iterator[str]:
        shutil.copy(self.done, data / FILE)
        yield ""


class OnServer:
    """PostgreSQL: the prepared database is a template."""

    def __init__(self, url: str, folder: Path) -> None:
        self.folder, self.url, self.stamp = folder, url, folder / "prepared.postgres"

    def prepared(self) -> bool:
        return self.stamp.exists()

    def begin(self) -> str:
        return self._created("")

    def finish(self) -> None:
        self.stamp.write_text(self.template)

    @contextmanager
    def copy(self, data: Path) -> Iterator[str]:
        url = self._created(f"TEMPLATE {self.stamp.read_text()}")
        yield url
        self._run(f"DROP DATABASE {_name(url)} WITH (FORCE)")

    def _created(self, clause: str) -> str:
        self.template = f"baywind_{uuid.uuid4().hex}"
        self._run(f"CREATE DATABASE {self.template} {clause}")
        return urlsplit(self.url)._replace(path=f"/{self.template}").geturl()

    def _run(self, statement: str) -> None:
        import psycopg

        with psycopg.connect(self.url, autocommit=True) as connection:
            connection.execute(statement)


def _name(url: str) -> str:
    return urlsplit(url).path.strip("/")
