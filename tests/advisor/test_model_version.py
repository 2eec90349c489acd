"""Answers change only together with the version of the model, or a stored one would be given for another question."""

import json

import pytest

from advisor.engine.version import MODEL_VERSION
from tests.advisor import golden

REMEDY = (
    "raise MODEL_VERSION in advisor/engine/version.py, then record the new answers: "
    "python manage.py shell -c 'from tests.advisor import golden; golden.record()'"
)


def same(one, other):
    """Tell whether two answers agree; numbers, as far as processors of two makes do."""
    if isinstance(one, str | bool) or one is None:
        return one == other
    return one == pytest.approx(other, rel=1e-4, abs=1e-6)


def test_answers_are_those_of_the_model_version():
    kept = json.loads(golden.FILE.read_text())
    now = golden.answers()
    assert kept["model_version"] == MODEL_VERSION, f"the recorded answers are of another version: {REMEDY}"
    assert now.keys() == kept["answers"].keys(), REMEDY
    differing = [path for path, value in kept["answers"].items() if not same(now[path], value)]
    assert not differing, f"{len(differing)} figures differ, such as {differing[:3]}: {REMEDY}"
