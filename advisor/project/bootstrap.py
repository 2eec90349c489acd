"""Prepare a machine: the virtual environment, the locked packages in it, the compiled kernels.

Run as a file by the Makefile, with nothing but the standard library, since nothing is installed yet:
``python3 advisor/project/bootstrap.py install requirements.txt``, then ``... kernels``. What is done already is not
done again.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"

# Words in the output of venv and pip, most telling first, and what they mean to the person who reads this.
REASONS = (
    (
        ("No space left on device", "Disk quota exceeded"),
        "The disk is full: free about 1 GB where this folder and the temporary folder are, then try again.",
    ),
    (
        ("Permission denied", "Read-only file system"),
        f"The disk can't be written: give this user the right to write to {ROOT}, then try again.",
    ),
    (
        ("ensurepip is not available", "ensurepip is disabled", "No module named venv", "No module named ensurepip"),
        "This Python can't make virtual environments: install its venv package (on Debian: apt-get install "
        "python3-venv), then try again.",
    ),
    (
        ("DO NOT MATCH THE HASHES",),
        "A package differs from the one in the lock file: the package index or a cache is not to be trusted; "
        "nothing more was installed.",
    ),
    (
        ("NewConnectionError", "Name or service not known", "Temporary failure in name resolution", "ProxyError")
        + ("ConnectTimeoutError", "ReadTimeoutError", "Read timed out", "SSLError", "from versions: none"),
        "The package index can't be reached: check the network (or pip's proxy and index settings), then try again.",
    ),
    (
        ("No matching distribution found", "requires a different Python"),
        f"A locked package does not exist for Python {sys.version_info.major}.{sys.version_info.minor}: name another "
        "one from 3.11 up, as in: make run PYTHON=python3.12",
    ),
    (
        ("error: command", "Unable to find a compiler", "Failed building wheel", "metadata-generation-failed"),
        "A package has no ready-made build for this machine and could not be compiled: install a C compiler "
        "(on Debian: apt-get install build-essential python3-dev), then try again.",
    ),
)


class BootstrapError(Exception):
    """A step that could not be done; the message says why and what to do."""


def main(arguments: list[str]) -> None:
    steps: dict[str, Callable[..., None]] = {"install": install, "kernels": kernels}
    try:
        steps[arguments[0]](*arguments[1:])
    except BootstrapError as error:
        sys.exit(str(error))
    except OSError as error:
        sys.exit(f"{error.filename or ROOT}: {error.strerror}. Baywind writes to {ROOT} and to its data folder.")


def install(lock_name: str) -> None:
    """Make the virtual environment hold what a lock file lists, unless it does."""
    lock = ROOT / lock_name
    stamp = VENV / f"{lock.stem}.installed"
    if not _usable():
        _say(f"Making the virtual environment {VENV.name} ...")
        # In two steps, since venv hides why its own call of ensurepip failed.
        _run([sys.executable, "-m", "venv", "--clear", "--without-pip", str(VENV)])
        _run([str(PYTHON), "-m", "ensurepip", "--default-pip"])
    wanted = hashlib.sha256(lock.read_bytes()).hexdigest()
    if _content(stamp) == wanted:
        return
    _say(f"Installing the packages of {lock_name} into {VENV.name} (about a minute, once) ...")
    _run([str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--require-hashes", "-r", str(lock)])
    stamp.write_text(wanted)


def kernels() -> None:
    """Compile the engine's kernels into numba's cache, unless they are there."""
    folder = Path(os.environ["NUMBA_CACHE_DIR"])
    stamp = folder / "compiled"
    wanted = _engine_state()
    if _content(stamp) == wanted:
        return
    stamp.parent.mkdir(parents=True, exist_ok=True)
    _say("Compiling the kernels (about a minute, once) ...")
    if subprocess.run([PYTHON, "-m", "advisor.engine.warm_up"], cwd=ROOT).returncode:
        raise BootstrapError("The kernels could not be compiled; the lines above say why.")
    stamp.write_text(wanted)
    _forget_others(folder)


def _forget_others(folder: Path) -> None:
    """Remove kernels of earlier states of the engine: folders beside the one in use that hold a stamp."""
    for other in folder.parent.iterdir():
        if other != folder and (other / "compiled").is_file():
            shutil.rmtree(other, ignore_errors=True)


def explanation(output: str) -> str:
    """Return one sentence for a failed venv or pip run, and pip's own last word where there is one."""
    said = [line.strip() for line in output.splitlines() if line.startswith(("ERROR", "error", "Error"))]
    reason = next((sentence for words, sentence in REASONS if any(w in output for w in words)), None)
    last = said[-1][:300] if said else output.strip()[-300:]
    return f"{reason}\n  ({last})" if reason else f"The packages could not be installed: {last}"


def _run(command: list[str]) -> None:
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace")
    if done.returncode:
        raise BootstrapError(explanation(done.stdout))


def _usable() -> bool:
    if not PYTHON.exists():
        return False
    check = "import pip, sys; sys.exit(sys.version_info < (3, 11))"
    return subprocess.run([PYTHON, "-c", check], stderr=subprocess.DEVNULL).returncode == 0


def _engine_state() -> str:
    # Numba's cache goes by path, time and size of each source file, and by the versions that compile it.
    files = sorted((ROOT / "advisor" / "engine").rglob("*.py"))
    facts = [f"{file} {file.stat().st_mtime_ns} {file.stat().st_size}" for file in files]
    facts += [_content(VENV / "requirements.installed"), sys.version]
    return hashlib.sha256("\n".join(facts).encode()).hexdigest()


def _content(file: Path) -> str:
    return file.read_text() if file.exists() else ""


def _say(words: str) -> None:
    print(words, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
