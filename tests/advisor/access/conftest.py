"""One person of each role."""

import pytest
from django.contrib.auth.models import AnonymousUser

from tests.advisor.access.people import make_person


@pytest.fixture
def guest():
    return AnonymousUser()


@pytest.fixture
def ann(db):
    return make_person("ann")


@pytest.fixture
def bob(db):
    return make_person("bob")


@pytest.fixture
def curator(db):
    return make_person("cora", "curator")
