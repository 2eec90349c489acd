"""Curators who decide at the same moment: one is first, the others are told."""

from concurrent.futures import ThreadPoolExecutor
from functools import partial
from threading import Barrier

import pytest
from django.contrib.auth.models import User
from django.db import connection, connections

from catalog.importing.loading import load_catalog
from catalog.models import Adapter, Drive, Fan, Ups
from catalog.offers import OfferRefused, accept, decline, offer
from tests.catalog.conftest import DATA
from tests.catalog.owning import make_own

ROUNDS = 10

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.skipif(connection.vendor == "sqlite", reason="a SQLite in memory has one connection"),
]


@pytest.fixture
def offered(now):
    """Make an own part of a kind that is on offer."""
    load_catalog(path=DATA, at=now)
    ann = User.objects.create(username="ann")
    return lambda model, word: offer(part=make_own(model.objects.public().first(), ann, word), by=ann, now=now)


def at_once(steps):
    """Take steps at the same moment; return how many were taken, refused, and too late to find their part."""
    barrier = Barrier(len(steps))

    def one(step):
        try:
            barrier.wait(timeout=10)
            step()
            return "taken"
        except OfferRefused:
            return "refused"
        except Fan.DoesNotExist:
            return "gone"
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(steps)) as pool:
        return sorted(pool.map(one, steps))


def test_one_code_goes_to_one_part_of_whatever_kind(offered):
    for number in range(ROUNDS):
        parts = [offered(model, f"w{number}") for model in (Fan, Drive, Adapter, Ups)]
        steps = [partial(accept, part=part, code=f"new-{number}") for part in parts]
        assert at_once(steps) == ["refused"] * 3 + ["taken"]


def test_a_part_is_accepted_or_declined(offered):
    for number in range(ROUNDS):
        part = offered(Fan, f"w{number}")
        steps = [partial(accept, part=part, code=f"new-{number}"), partial(decline, part=part, note="Too late.")]
        assert at_once(steps) == ["gone", "taken"]
        part = Fan.objects.get(pk=part.pk)
        assert (part.owner is None) == (part.decline_note == "")
