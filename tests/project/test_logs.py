"""What the service logs: nothing that only its owner may know."""

import logging
import sys

import pytest

from advisor.project.logs import MaskingFormatter, masked

STUDY = "9b0e7a52-6c1f-4d38-a5e4-2f7c80d1b396"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("GET /api/v1/studies/" + STUDY + "/ failed", "GET /api/v1/studies/9b0e7a52-***/ failed"),
        ("redis://:open:sesame@broker:6379/0 is away", "redis://:***@broker:6379/0 is away"),
        ("postgresql://ann:opensesame@db/baywind", "postgresql://ann:***@db/baywind"),
        ("Authorization: Bearer Qx3vT0aBxxxxxxxx", "Authorization: Bearer ***"),
        ("http://localhost:8000/api/v1/ answers", "http://localhost:8000/api/v1/ answers"),
        ("bearer of bad news", "bearer of bad news"),
    ],
)
def test_it_masks_secrets_and_nothing_else(text, shown):
    assert masked(text) == shown


def test_it_masks_arguments_and_tracebacks():
    try:
        raise OSError("cannot reach redis://:opensesame@broker:6379/0")
    except OSError:
        record = logging.LogRecord("x", logging.ERROR, "", 0, "study %s", (STUDY,), sys.exc_info())
    line = MaskingFormatter("%(message)s").format(record)
    assert "OSError" in line
    assert "opensesame" not in line and STUDY not in line
