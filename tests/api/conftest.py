"""What the tests of the REST interface share: clients, and counts of requests that start anew."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from django.contrib.auth.models import Group
from django.core.cache import cache
from rest_framework.test import APIClient

from catalog.importing.loading import load_catalog

SMALL = Path(__file__).parents[1] / "catalog" / "data"


@pytest.fixture(autouse=True)
def nobody_asked_yet():
    cache.clear()


@pytest.fixture
def guest():
    return APIClient(raise_request_exception=False)


@pytest.fixture
def member(django_user_model, db):
    return client_of(django_user_model.objects.create_user("mara", password="warm-lemon-kettle"))


@pytest.fixture
def other(django_user_model, db):
    return client_of(django_user_model.objects.create_user("otto", password="blue-button-stair"))


@pytest.fixture
def now():
    return datetime(2031, 6, 1, tzinfo=UTC)


@pytest.fixture
def small_catalogue(db, now):
    return load_catalog(path=SMALL, at=now)


@pytest.fixture
def curator(django_user_model, db):
    user = django_user_model.objects.create_user("cora", password="round-paper-lamp")
    user.groups.add(Group.objects.get(name="curator"))
    return client_of(user)


def client_of(user):
    client = APIClient(raise_request_exception=False)
    client.force_login(user)
    client.user = user
    return client
