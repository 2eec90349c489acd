"""What a machine keeps for itself: folders and texts that only its own user may read."""

from __future__ import annotations

import contextlib
import fcntl
import os
import stat
from collections.abc import Callable
from pathlib import Path


class KeptError(Exception):
    """A private file or folder that others could read or have put there; the message says what to do."""


def private_folder(folder: Path) -> Path:
    """Make a folder that only this user may enter, and return it."""
    folder.mkdir(mode=0o700, exist_ok=True)
    facts = folder.lstat()
    if not stat.S_ISDIR(facts.st_mode) or facts.st_uid != os.geteuid():
        raise KeptError(f"{folder} is not a folder of this user's own; remove it, or set BAYWIND_DATA to another one")
    folder.chmod(0o700)
    return folder


def kept_text(file: Path, make: Callable[[], str]) -> str:
    """Return the text of a private file, made once; of two processes that ask at once, both get the first one's."""
    if not file.exists():
        aside = file.with_name(f"{file.name}.{os.getpid()}")
        write_private(aside, make())
        with contextlib.suppress(FileExistsError):
            file.hardlink_to(aside)
        aside.unlink()
    mode = stat.S_IMODE(file.stat().st_mode)
    if mode & 0o077:
        raise KeptError(f"{file} can be read by others (mode {mode:04o}); run: chmod 600 {file}")
    return file.read_text().strip()


def write_private(file: Path, content: str) -> None:
    """Write a file anew that only this user may read, from its first byte on."""
    file.unlink(missing_ok=True)
    descriptor = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w") as stream:
        stream.write(content)


def locked(descriptor: int) -> bool:
    """Lock an open file for as long as a process has it open; return whether nobody else holds it."""
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
