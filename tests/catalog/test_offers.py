"""An own part on its way into the public catalogue."""

from datetime import timedelta

import pytest
from django.contrib.auth.models import User

from catalog.exporting import export_blocks
from catalog.formats import PARTS
from catalog.models import Adapter, Enclosure, Fan, Supply
from catalog.offers import OfferRefused, accept, decline, offer, withdraw
from catalog.provenance import figures
from tests.catalog.owning import make_own

KINDS = [layout.model for layout in PARTS.values()]


@pytest.fixture
def ann(db):
    return User.objects.create(username="ann")


@pytest.fixture
def bob(db):
    return User.objects.create(username="bob")


@pytest.fixture
def own(loaded, ann):
    return make_own(Fan.objects.first(), ann)


@pytest.fixture
def offered(own, ann, now):
    return offer(part=own, by=ann, now=now)


def _problems(step, **arguments):
    with pytest.raises(OfferRefused) as caught:
        step(**arguments)
    return [str(problem) for problem in caught.value.problems]


def test_an_offered_part_stays_its_owners(offered, ann, bob, now):
    part = Fan.objects.offered().get()
    assert (part.owner, part.offered_at, part.contributor) == (ann, now, "ann")
    assert part not in Fan.objects.visible(to=bob)


def test_offers_wait_in_the_order_of_their_coming(loaded, ann, now):
    later, sooner = (make_own(Fan.objects.public().first(), ann, word) for word in ("a", "b"))
    offer(part=later, by=ann, now=now + timedelta(days=1))
    offer(part=sooner, by=ann, now=now)
    offer(part=sooner, by=ann, now=now + timedelta(days=2))
    assert list(Fan.objects.offered()) == [sooner, later]


@pytest.mark.parametrize(("given", "named"), [(None, "ann"), ("Ann of the Hill", "Ann of the Hill"), ("", "")])
def test_owners_say_under_which_name_they_are_thanked(own, ann, now, given, named):
    offer(part=own, by=ann, now=now, contributor=given)
    assert accept(part=own, code="marl-200").contributor == named


def test_a_name_to_be_thanked_by_is_checked(own, ann, now):
    assert "accepted: text of 0 to 150" in _problems(offer, part=own, by=ann, now=now, contributor="x" * 151)[0]


@pytest.mark.parametrize("step", [offer, withdraw])
def test_nobody_offers_or_withdraws_anothers_part(offered, bob, now, step):
    with pytest.raises(Fan.DoesNotExist):
        step(part=offered, by=bob, **({"now": now} if step is offer else {}))


def test_nobody_offers_a_public_part(loaded, ann, now):
    with pytest.raises(Fan.DoesNotExist):
        offer(part=Fan.objects.public().first(), by=ann, now=now)


def test_an_offer_can_be_withdrawn_once(offered, ann):
    withdraw(part=offered, by=ann)
    assert not Fan.objects.offered()
    assert "the part is not on offer" in _problems(withdraw, part=offered, by=ann)[0]


@pytest.mark.parametrize(
    "step", [{"step": accept, "code": "new"}, {"step": decline, "note": "no"}], ids=["accept", "decline"]
)
def test_what_is_not_on_offer_is_neither_accepted_nor_declined(own, step):
    step = dict(step)
    with pytest.raises(Fan.DoesNotExist):
        step.pop("step")(part=own, **step)


def test_an_accepted_part_is_public_with_its_notes_and_its_contributor(offered):
    before = [figure for figure in figures(offered) if figure.source != offered.source_id]
    part = accept(part=offered, code="marl-200")
    stored = Fan.objects.public().get(code="marl-200")
    assert (stored.pk, stored.owner, stored.offered_at, stored.contributor) == (part.pk, None, None, "ann")
    assert [figure for figure in figures(stored) if figure.source != stored.source_id] == before
    assert "marl-200" in {block["code"] for block in export_blocks("fans")}


@pytest.mark.parametrize("model", KINDS, ids=lambda model: model._meta.model_name)
def test_every_kind_can_be_accepted(loaded, ann, now, model):
    if model is Enclosure:
        own = Enclosure.objects.with_wiring().get()
        own.code, own.owner = "own-aaaaaann-box", ann
        own.save()
    else:
        own = make_own(model.objects.first(), ann)
    offer(part=own, by=ann, now=now)
    assert accept(part=own, code="brand-new").owner is None


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("fan-120", "is the code of a public fan already"),
        ("cooler-tower", "is already loaded as one of the coolers"),
        ("own-aaaaaann-mine", "begins with own-, as only own parts do"),
        ("Own-fan", "begins with own-, as only own parts do"),
        ("two words", "is not a code"),
        ("", "is not a code"),
    ],
)
def test_a_public_code_must_be_free_and_public(offered, code, said):
    assert any(said in problem for problem in _problems(accept, part=offered, code=code))
    offered.refresh_from_db()
    assert offered.owner is not None and offered.code == "own-aaaaaann-mine"


def test_a_supply_must_not_bring_an_air_path_of_own_parts(loaded, ann, now):
    own = make_own(Supply.objects.first(), ann)
    Supply.objects.owned_by(ann).update(air_path="own-aaaaaann-air")
    offer(part=own, by=ann, now=now)
    assert "air_path: own-aaaaaann-air is a name among own parts" in _problems(accept, part=own, code="new")[0]


def test_a_supply_must_agree_with_public_ones_on_a_shared_air_path(loaded, ann, now):
    own = make_own(Supply.objects.first(), ann)
    Supply.objects.owned_by(ann).update(path_loss=own.path_loss + 1)
    offer(part=own, by=ann, now=now)
    assert "which differs in path_loss" in _problems(accept, part=own, code="new")[0]


def test_an_enclosure_that_does_not_hang_together_is_not_accepted(loaded, ann, now):
    enclosure = Enclosure.objects.get()
    enclosure.code, enclosure.owner = "own-aaaaaann-box", ann
    enclosure.save()
    enclosure.seats.filter(role="memory").delete()
    offer(part=enclosure, by=ann, now=now)
    assert "seats.memory: is missing" in _problems(accept, part=enclosure, code="box")[0]


def test_a_declined_part_goes_back_with_a_note(offered, ann, now):
    decline(part=offered, note="The curve has two points only; measure five.")
    part = Fan.objects.owned_by(ann).get()
    assert part.offered_at is None and part.decline_note.startswith("The curve")
    assert offer(part=part, by=ann, now=now).decline_note == ""


@pytest.mark.parametrize("note", ["", "  ", "x" * 501])
def test_a_decline_says_why(offered, note):
    assert _problems(decline, part=offered, note=note)[0].startswith("note: ")
    assert Fan.objects.offered().exists()


def test_own_parts_may_share_a_word_with_public_ones(loaded, ann, bob):
    for person in (ann, bob):
        make_own(Adapter.objects.public().first(), person, word="five-in-three")
    assert Adapter.objects.count() == 3
