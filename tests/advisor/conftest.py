"""The small catalogue of the catalogue's own tests, in the database; a broker within the test."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from catalog.importing.loading import load_catalog
from tests.advisor.brokers import broker, two_workers

__all__ = ["broker", "small_catalogue", "two_workers"]

SMALL = Path(__file__).parents[1] / "catalog" / "data"


@pytest.fixture
def small_catalogue(db):
    return load_catalog(path=SMALL, at=datetime(2031, 6, 1, tzinfo=UTC))
