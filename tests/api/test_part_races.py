"""People who change the same thing at the same moment: one is first, the others are told."""

from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from threading import Barrier

import pytest
from django.contrib.auth.models import Group, User
from django.db import connection, connections

from catalog.importing.loading import load_catalog
from catalog.models import Fan
from tests.api.conftest import SMALL, client_of
from tests.api.parts import BASE, FAN, FANS, READ_ONLY, match

ROUNDS, PEOPLE = 10, 4

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.skipif(connection.vendor == "sqlite", reason="a SQLite in memory has one connection"),
]


@pytest.fixture
def clients():
    load_catalog(path=SMALL, at=datetime(2031, 6, 1, tzinfo=UTC))
    group, _ = Group.objects.get_or_create(name="curator")
    people = [User.objects.create(username=f"cora{number}") for number in range(PEOPLE)]
    group.user_set.add(*people)
    return [client_of(person) for person in people]


def at_once(requests):
    """Make requests at the same moment, each a method of a client and its arguments; return the statuses, sorted."""
    barrier = Barrier(len(requests))

    def one(request):
        method, *arguments, headers = request
        try:
            barrier.wait(timeout=10)
            return method(*arguments, headers=headers).status_code
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(requests)) as pool:
        return sorted(pool.map(one, requests))


def test_of_changes_to_one_version_one_is_made(clients):
    for number in range(ROUNDS):
        version = match(clients[0].get(FAN))
        prices = [10.5 * number + person for person in range(PEOPLE)]
        requests = [(c.patch, FAN, {"price": price}, version) for c, price in zip(clients, prices, strict=True)]
        assert at_once(requests) == [200] + [412] * (PEOPLE - 1)
        assert Fan.objects.get(code="fan-120").price in prices


def test_of_parts_with_one_code_one_is_added(clients):
    """Briefs name parts by code alone, so that a fan and a drive cannot share one either."""
    bodies = {}
    for room, code in ((FANS, "fan-120"), (f"{BASE}drives/", "drive-8")):
        body = clients[0].get(f"{room}{code}/").json()
        bodies[room] = {key: value for key, value in body.items() if key not in READ_ONLY}
    rooms = list(bodies) * (PEOPLE // 2)
    for number in range(ROUNDS):
        new = {"code": f"new-{number}"}
        requests = [(c.post, room, bodies[room] | new, {}) for c, room in zip(clients, rooms, strict=True)]
        assert at_once(requests) == [201] + [422] * (PEOPLE - 1)


def test_a_part_is_deleted_once(clients):
    version = match(clients[0].get(FAN))
    requests = [(client.delete, FAN, None, version) for client in clients]
    assert at_once(requests) == [204] + [404] * (PEOPLE - 1)
