"""The demo catalogue as its files say it, read without Django."""

from collections import defaultdict
from pathlib import Path

import pytest
import yaml

CATALOG = Path(__file__).parents[2] / "fixtures" / "catalog"


@pytest.fixture(scope="session")
def sheets():
    """The blocks of each file, by its name without the ending."""
    return {file.stem: yaml.safe_load(file.read_text()) for file in sorted(CATALOG.glob("*.yaml"))}


@pytest.fixture(scope="session")
def enclosures():
    """All enclosures, kind by kind."""
    files = sorted((CATALOG / "enclosures").glob("*.yaml"))
    return [block for file in files for block in yaml.safe_load(file.read_text())]


@pytest.fixture(scope="session")
def kinds(enclosures):
    """The enclosures of each kind."""
    found = defaultdict(list)
    for enclosure in enclosures:
        found[enclosure["kind"]].append(enclosure)
    return found
