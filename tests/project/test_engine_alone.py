"""The engine runs in an interpreter that has never heard of Django."""

import importlib.util
import subprocess
import sys

import pytest
from django.conf import settings

FRAMEWORKS = ("django", "celery", "rest_framework", "redis")


@pytest.mark.parametrize("module", ["advisor.engine", "advisor.engine.pipeline", "advisor.engine.search"])
def test_engine_brings_no_framework(module):
    if importlib.util.find_spec(module) is None:
        pytest.skip(f"{module} does not exist")
    code = f"import sys, {module}; print(*(m for m in {FRAMEWORKS} if m in sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], cwd=settings.BASE_DIR, capture_output=True, text=True)
    assert (done.stdout, done.stderr) == ("\n", "")
