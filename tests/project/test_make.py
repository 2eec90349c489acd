"""The Makefile: its list of commands, and its word on a Python that is too old."""

import re
import subprocess

from django.conf import settings


def make(*arguments):
    return subprocess.run(["make", *arguments], cwd=settings.BASE_DIR, capture_output=True, text=True)


def test_help_lists_every_command_for_people():
    listed = re.findall(r"^  make (\w+)", make("help").stdout, flags=re.MULTILINE)
    assert listed == ["help", "run", "test", "quick", "lint", "imports", "chaos", "fuzz", "bench", "lock"]


def test_old_python_is_refused_in_one_sentence(tmp_path):
    old = tmp_path / "old"
    old.write_text('#!/bin/sh\n[ "$1" = --version ] && echo "Python 3.9.2" && exit 0\nexit 1\n')
    old.chmod(0o755)
    done = make("run", f"PYTHON={old}")
    assert done.returncode != 0
    assert done.stderr.startswith(f"Baywind needs Python 3.11 or newer, and '{old}' here is Python 3.9.2; install one")


def planned(*arguments, monkeypatch):
    """Return what make would do, and with which data folder."""
    monkeypatch.delenv("BAYWIND_DATA", raising=False)
    done = make("--dry-run", "--print-data-base", *arguments)
    return done.stdout, re.search(r"^BAYWIND_DATA := (.*)$", done.stdout, flags=re.MULTILINE)[1]


def test_run_serves_after_the_sample_brief(monkeypatch):
    steps, data = planned("run", monkeypatch=monkeypatch)
    assert steps.index("load_catalog fixtures/catalog") < steps.index("manage.py advise")
    assert steps.index("manage.py advise") < steps.index("exec .venv/bin/python -m advisor.project.serve")
    assert data == f"{settings.BASE_DIR}/var"


def test_run_without_the_demo_starts_with_a_catalogue_of_its_own(monkeypatch):
    steps, data = planned("run", "DEMO=0", monkeypatch=monkeypatch)
    commands = steps.split("# Make data base")[0].split("# GNU Make")[0]
    assert "serve --tied --empty" in commands
    assert "load_catalog" not in commands and "advise" not in commands
    assert data == f"{settings.BASE_DIR}/var/own"
