"""Preparing a machine: what is done once, and the sentences for what can go wrong."""

import subprocess
import types

import pytest

from advisor.project import bootstrap

# The last lines that pip and ensurepip print in each case, shortened (pip 23.2).
REFUSED = """WARNING: Retrying (Retry(total=0)) after connection broken by 'NewConnectionError('[Errno 111] refused')'
ERROR: Could not find a version that satisfies the requirement amqp==5.4.2 (from versions: none)
ERROR: No matching distribution found for amqp==5.4.2
"""
TOO_NEW = """ERROR: Could not find a version that satisfies the requirement numba==0.1 (from versions: 0.2, 0.3)
ERROR: No matching distribution found for numba==0.1
"""
NO_COMPILER = """      error: command 'gcc' failed: No such file or directory
  ERROR: Failed building wheel for some
ERROR: Could not build wheels for some, which is required to install pyproject.toml-based projects
"""
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n"
READ_ONLY = "Error: [Errno 30] Read-only file system: '/srv/baywind/.venv'\n"
TAMPERED = "ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE.\n    Expected sha256 00\n"
NO_PIP = "/srv/baywind/.venv/bin/python: No module named ensurepip\n"


@pytest.mark.parametrize(
    ("output", "sentence"),
    [
        (REFUSED, "The package index can't be reached"),
        (TOO_NEW, "A locked package does not exist for Python"),
        (NO_COMPILER, "install a C compiler"),
        (FULL, "The disk is full"),
        (READ_ONLY, "The disk can't be written"),
        (TAMPERED, "A package differs from the one in the lock file"),
        (NO_PIP, "This Python can't make virtual environments"),
    ],
)
def test_failure_is_explained_in_a_sentence(output, sentence):
    assert sentence in bootstrap.explanation(output).splitlines()[0]


def test_unknown_failure_shows_the_last_words():
    assert bootstrap.explanation("a\nERROR: odd\n") == "The packages could not be installed: ERROR: odd"


@pytest.fixture
def machine(tmp_path, monkeypatch):
    """A folder with a lock file, and the commands that would have been run there."""
    (tmp_path / "advisor" / "engine").mkdir(parents=True)
    (tmp_path / "advisor" / "engine" / "air.py").write_text("x = 1\n")
    (tmp_path / "requirements.txt").write_text("some==1\n")
    (tmp_path / ".venv" / "bin").mkdir(parents=True)
    (tmp_path / ".venv" / "bin" / "python").write_text("")
    ran = []

    def run(command, **_):
        ran.append([str(word) for word in command])
        return types.SimpleNamespace(returncode=0, stdout="")

    monkeypatch.setattr(subprocess, "run", run)
    monkeypatch.setattr(bootstrap, "ROOT", tmp_path)
    monkeypatch.setattr(bootstrap, "VENV", tmp_path / ".venv")
    monkeypatch.setattr(bootstrap, "PYTHON", tmp_path / ".venv" / "bin" / "python")
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path / "numba" / "now"))
    return types.SimpleNamespace(root=tmp_path, ran=ran)


def count(machine, word):
    return sum(word in command for command in machine.ran)


def test_packages_are_installed_once_a_lock(machine):
    bootstrap.install("requirements.txt")
    bootstrap.install("requirements.txt")
    assert count(machine, "install") == 1
    (machine.root / "requirements.txt").write_text("some==2\n")
    bootstrap.install("requirements.txt")
    assert count(machine, "install") == 2


def test_packages_must_match_their_hashes(machine):
    bootstrap.install("requirements.txt")
    assert count(machine, "--require-hashes") == 1


def test_failed_installation_is_tried_again(machine, monkeypatch):
    failed = types.SimpleNamespace(returncode=1, stdout=FULL)
    monkeypatch.setattr(bootstrap, "_usable", lambda: True)
    with monkeypatch.context() as patch:
        patch.setattr(subprocess, "run", lambda *_, **__: failed)
        with pytest.raises(bootstrap.BootstrapError, match="The disk is full"):
            bootstrap.install("requirements.txt")
    bootstrap.install("requirements.txt")
    assert count(machine, "install") == 1


def test_broken_environment_is_made_anew(machine):
    (machine.root / ".venv" / "bin" / "python").unlink()
    bootstrap.install("requirements.txt")
    assert count(machine, "--clear") == 1


def test_kernels_are_compiled_again_when_the_engine_changes(machine):
    bootstrap.kernels()
    bootstrap.kernels()
    assert count(machine, "advisor.engine.warm_up") == 1
    (machine.root / "advisor" / "engine" / "air.py").write_text("x = 1000\n")
    bootstrap.kernels()
    assert count(machine, "advisor.engine.warm_up") == 2


def test_failed_kernels_stop_the_run(machine, monkeypatch):
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: types.SimpleNamespace(returncode=1))
    with pytest.raises(bootstrap.BootstrapError, match="kernels could not be compiled"):
        bootstrap.kernels()
    assert not (machine.root / "numba" / "compiled").exists()


def test_unwritable_folder_is_named(machine, monkeypatch):
    (machine.root / "numba").write_text("a file where the folder should be")
    with pytest.raises(SystemExit, match=r"numba/now: Not a directory\. Baywind writes to"):
        bootstrap.main(["kernels"])


def test_kernels_of_earlier_states_are_removed(machine):
    old = machine.root / "numba" / "before"
    old.mkdir(parents=True)
    (old / "compiled").write_text("")
    (machine.root / "numba" / "other").mkdir()
    bootstrap.kernels()
    assert not old.exists()
    assert (machine.root / "numba" / "other").exists()
