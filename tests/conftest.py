"""What all tests share: how hypothesis draws, and which tests run on another database."""

import os

import pytest
from hypothesis import settings

# The same examples on each run, so that a failure is a change's own; FRESH_EXAMPLES=1 looks for new ones.
settings.register_profile("baywind", deadline=None, derandomize="FRESH_EXAMPLES" not in os.environ, print_blob=True)
settings.load_profile("baywind")

DATABASE_FIXTURES = {"db", "transactional_db", "django_db_reset_sequences", "live_server", "service"}


def pytest_addoption(parser):
    parser.addoption("--database-only", action="store_true", help="leave out tests that use no database")


def pytest_collection_modifyitems(config, items):
    if not config.getoption("--database-only"):
        return
    config.hook.pytest_deselected(items=[item for item in items if not uses_database(item)])
    items[:] = filter(uses_database, items)


def uses_database(item: pytest.Item) -> bool:
    marked = item.get_closest_marker("django_db") is not None
    return marked or not DATABASE_FIXTURES.isdisjoint(getattr(item, "fixturenames", ()))
