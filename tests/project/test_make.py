"""The Makefile: its list of commands, and its word on a Python that is too old."""

import re
import subprocess

from django.conf import settings


def make(*arguments):
    return subprocess.run(["make", *arguments], cwd=settings.BASE_DIR, capture_output=True, text=True)


def test_help_lists_every_command_for_people():
    listed = re.findall(r"^  make (\w+)", make("help").stdout, flags=re.MULTILINE)
    assert listed == ["help", "run", "test", "quick", "lint", "imports", "bench", "lock"]


def test_old_python_is_refused_in_one_sentence(tmp_path):
    old = tmp_path / "old"
    old.write_text('#!/bin/sh\n[ "$1" = --version ] && echo "Python 3.9.2" && exit 0\nexit 1\n')
    old.chmod(0o755)
    done = make("run", f"PYTHON={old}")
    assert done.returncode != 0
    assert done.stderr.startswith(f"Baywind needs Python 3.11 or newer, and '{old}' here is Python 3.9.2; install one")
