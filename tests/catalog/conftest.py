"""A small catalogue on disk and in the database."""

import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from catalog.importing.loading import load_catalog
from catalog.importing.refusals import LoadRefused

DATA = Path(__file__).parent / "data"
NOW = datetime(2031, 6, 1, tzinfo=UTC)


@pytest.fixture
def now():
    return NOW


@pytest.fixture
def folder(tmp_path):
    """A copy of the small catalogue that a test may spoil."""
    return Path(shutil.copytree(DATA, tmp_path / "catalog"))


@pytest.fixture
def edit(folder):
    """Replace a text in a file of the copy, which must be there."""

    def replace(file: str, old: str, new: str) -> None:
        path = folder / file
        text = path.read_text()
        assert old in text
        path.write_text(text.replace(old, new))

    return replace


@pytest.fixture
def load(folder, db):
    """Load the copy and return the report."""
    return lambda **options: load_catalog(path=folder, at=NOW, **options)


@pytest.fixture
def refusals(load):
    """Load a spoilt copy and return every refusal as text."""

    def refused(**options) -> list[str]:
        with pytest.raises(LoadRefused) as caught:
            load(**options)
        return [str(refusal) for refusal in caught.value.refusals]

    return refused


@pytest.fixture
def loaded(db):
    """The small catalogue in the database."""
    return load_catalog(path=DATA, at=NOW)
