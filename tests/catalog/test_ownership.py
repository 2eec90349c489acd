"""Own parts beside the public catalogue: who sees which, and that files and own parts never meet."""

import pytest
from django.contrib.auth.models import AnonymousUser, User
from django.db import IntegrityError, transaction

from catalog import models
from catalog.exporting import export_blocks
from catalog.formats import FILES, PARTS
from catalog.importing.loading import catalog_digest
from catalog.ownership import own_code
from tests.catalog.owning import make_own

KINDS = [layout.model for layout in PARTS.values()]


@pytest.fixture
def ann(db):
    return User.objects.create(username="ann")


@pytest.fixture
def bob(db):
    return User.objects.create(username="bob")


def _refused_by(name, part, **values):
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        type(part).objects.with_keys([part.pk]).update(**values)


@pytest.mark.parametrize("model", KINDS, ids=lambda model: model._meta.model_name)
def test_the_database_holds_owners_codes_and_offers_together(loaded, ann, now, model):
    public, name = model.objects.first(), model._meta.model_name
    own = make_own(model.objects.first(), ann)
    _refused_by(f"{name}_own_code", public, code="own-abcdefgh-x")
    _refused_by(f"{name}_own_code", public, code="Own-abcdefgh-x")
    _refused_by(f"{name}_own_code", public, owner=ann)
    _refused_by(f"{name}_own_code", own, code="public-word")
    _refused_by(f"{name}_own_code", own, owner=None)
    _refused_by(f"{name}_offer_has_owner", public, offered_at=now)
    _refused_by(f"{name}_declined_is_private", public, decline_note="no")
    _refused_by(f"{name}_declined_is_private", own, decline_note="no", offered_at=now)


def test_everyone_sees_public_parts_and_only_the_owner_own_ones(loaded, ann, bob):
    public = list(models.Fan.objects.public())
    own = make_own(models.Fan.objects.first(), ann)
    assert own not in public
    for person in (None, AnonymousUser(), bob):
        assert list(models.Fan.objects.visible(to=person)) == public
    assert set(models.Fan.objects.visible(to=ann)) == {*public, own}
    assert list(models.Fan.objects.owned_by(ann)) == [own]
    assert not models.Fan.objects.owned_by(bob) and not models.Fan.objects.owned_by(AnonymousUser())


def test_a_person_takes_own_parts_along(loaded, ann):
    make_own(models.Enclosure.objects.first(), ann)
    ann.delete()
    assert [enclosure.code for enclosure in models.Enclosure.objects.all()] == ["tower"]


def test_files_neither_say_nor_remove_own_parts(load, ann):
    load()
    before = catalog_digest(), [export_blocks(kind) for kind in FILES]
    own = [make_own(model.objects.first(), ann) for model in KINDS]
    assert (catalog_digest(), [export_blocks(kind) for kind in FILES]) == before
    assert load().unread
    assert load(prune=True).total("removed") == 0
    assert all(type(part).objects.owned_by(ann).count() == 1 for part in own)


def test_a_load_leaves_the_contributor_named(load, edit):
    load()
    models.Fan.objects.filter(code="fan-120").update(contributor="Ann")
    edit("fans.yaml", "name: Marl 120\n", "name: New Marl 120\n")
    assert load().total("changed") == 1
    fan = models.Fan.objects.get(code="fan-120")
    assert (fan.contributor, fan.name[:4]) == ("Ann", "New ")


@pytest.mark.parametrize("code", ["own-abcdefgh-fan", "OWN-fan"])
def test_files_may_not_use_codes_of_own_parts(edit, refusals, code):
    edit("adapters.yaml", "code: five-in-three", f"code: {code}")
    assert any(f"code: '{code}" in text and "as only own parts do" in text for text in refusals())


def test_an_own_code_has_room_for_a_word_of_51_letters():
    assert len(own_code("k3v7q2xa", "w" * 51)) == 64
    with pytest.raises(ValueError, match="at most 51 in all"):
        own_code("k3v7q2xa", "w" * 52)
    with pytest.raises(ValueError, match="'two words' is not a word for a part"):
        own_code("k3v7q2xa", "two words")
