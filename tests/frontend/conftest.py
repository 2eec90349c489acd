"""What tests of pages share: people, the small catalogue, and counts of requests that start anew."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from django.core.cache import cache
from django.test import Client

from catalog.importing.loading import load_catalog

SMALL = Path(__file__).parents[1] / "catalog" / "data"


@pytest.fixture(autouse=True)
def nobody_asked_yet():
    cache.clear()


@pytest.fixture
def now():
    return datetime(2031, 6, 1, tzinfo=UTC)


@pytest.fixture
def small_catalogue(db, now):
    return load_catalog(path=SMALL, at=now)


@pytest.fixture
def guest(db):
    return Client()


@pytest.fixture
def member(django_user_model, db):
    return signed_in(django_user_model.objects.create_user("mara", password="warm-lemon-kettle"))


@pytest.fixture
def other(django_user_model, db):
    return signed_in(django_user_model.objects.create_user("otto", password="blue-button-stair"))


def signed_in(user):
    client = Client()
    client.force_login(user)
    client.user = user
    return client
