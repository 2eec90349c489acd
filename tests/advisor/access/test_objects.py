"""Whose part, study or token it is."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from advisor.access import objects
from catalog.importing.loading import load_catalog
from catalog.models import Fan
from catalog.offers import offer
from tests.advisor.access.making import NOW, make_study, make_token
from tests.catalog.owning import make_own

SMALL = Path(__file__).parents[2] / "catalog" / "data"


@pytest.fixture
def fans(db, ann):
    """Public fans, one of Ann's own, and one that she offers."""
    load_catalog(path=SMALL, at=datetime(2031, 6, 1, tzinfo=UTC))
    public = set(Fan.objects.public())
    private = make_own(Fan.objects.public().first(), ann, "private")
    offered = make_own(Fan.objects.public().first(), ann, "offered")
    offer(part=offered, by=ann, now=NOW)
    return public, private, offered


@pytest.mark.parametrize(
    ("who", "seen", "changed", "owned", "on_offer"),
    [
        ("guest", "public", "", "", ""),
        ("ann", "public private offered", "private offered", "private offered", ""),
        ("bob", "public", "", "", ""),
        ("curator", "public offered", "public", "", "offered"),
    ],
)
def test_parts_are_seen_and_changed_by_whom_they_concern(request, fans, who, seen, changed, owned, on_offer):
    person = request.getfixturevalue(who)
    public, private, offered = fans
    named = {"public": public, "private": {private}, "offered": {offered}}

    def those(words):
        return set().union(*(named[word] for word in words.split()))

    assert set(objects.parts_seen(Fan, person)) == those(seen)
    assert set(objects.parts_changed(Fan, person)) == those(changed)
    assert set(objects.parts_owned(Fan, person)) == those(owned)
    assert set(objects.parts_on_offer(Fan, person)) == those(on_offer)


def test_studies_hold_no_offered_part_of_others(fans, curator):
    assert set(objects.parts_to_choose_from(Fan, curator)) == fans[0]


def test_a_study_is_open_to_its_owner_and_a_guests_to_all(guest, ann, bob, curator):
    guests, anns = make_study(), make_study(ann)
    assert set(objects.studies_open(ann)) == {guests, anns}
    for person in (guest, bob, curator):
        assert set(objects.studies_open(person)) == {guests}


def test_a_list_of_studies_is_ones_own(guest, ann, bob):
    make_study()
    anns = make_study(ann)
    assert list(objects.studies_listed(ann)) == [anns]
    assert not objects.studies_listed(bob) and not objects.studies_listed(guest)


def test_tokens_are_their_owners(guest, ann, bob, curator):
    token = make_token(ann)
    assert list(objects.tokens_of(ann)) == [token]
    assert not any(objects.tokens_of(person).exists() for person in (guest, bob, curator))
