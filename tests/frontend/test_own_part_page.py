"""The form of an own part: made for every kind from its layout, nothing typed lost, checked as files and bodies are."""

import pytest
from django.contrib.contenttypes.models import ContentType

from catalog.exporting import block_of
from catalog.kinds import KIND_OF
from catalog.models import Cooler, Drive, Fan, FigureNote, Graphics, Supply
from catalog.records import notes_on, record_of
from frontend.forms.own_part import OwnPartForm, texts_of
from tests.frontend.pages import HOSTILE, queries
from tests.frontend.parts import FAN, PART_KINDS, Page, is_inline, own

FANS = "/own/fans/"
PLAIN_KINDS = [kind for kind in PART_KINDS if kind.path != "enclosures"]
each_plain_kind = pytest.mark.parametrize("kind", PLAIN_KINDS, ids=[kind.path for kind in PLAIN_KINDS])


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def block(kind, row):
    return block_of(kind.layout, record_of(row, kind.layout, notes_on(row)), whole=True)


def figures_of(kind, row):
    apart = {"code", "source", "sources", "uncertainty", "air_path"}
    return {key: value for key, value in block(kind, row).items() if key not in apart}


def filled_as(kind, row):
    """What a person types who copies a part's sheet."""
    typed = texts_of(kind.layout, block(kind, row)) | {"code": "copy", "source": "own-measure"}
    return {name: value for name, value in typed.items() if value not in (False, "")}


@each_plain_kind
def test_every_kind_can_be_typed_off_its_sheet(member, kind):
    sheet = kind.layout.model.objects.public().first()
    answer = member.post(f"/own/{kind.path}/", filled_as(kind, sheet), follow=True)
    mine = kind.layout.model.objects.owned_by(member.user).get()
    assert answer.redirect_chain == [(f"/catalogue/{kind.path}/{mine.code}/", 302)]
    assert mine.code.endswith("-copy") and mine.source_id == "own-measure"
    assert figures_of(kind, mine) == figures_of(kind, sheet)


@each_plain_kind
def test_an_empty_form_is_refused_at_its_entries(member, kind):
    page = Page(member.post(f"/own/{kind.path}/", {}))
    assert "things to put right" in page.text and "Nothing is entered" in page.text
    for tag, given in page.tags:
        if tag == "a" and str(given.get("href", "")).startswith("#id_"):
            assert given["href"][1:] in page.ids
    assert not kind.layout.model.objects.private().exists() and is_inline(page) == []


def test_a_fan_by_its_readings(member):
    member.post(FANS, FAN)
    fan = Fan.objects.owned_by(member.user).get()
    assert fan.curve_points_m3h_pa == [[0, 18.5], [40, 12], [85, 0]] and fan.max_rpm == 1200 and fan.power_w == 1.2
    assert fan.curve_density_kg_m3 == 1.2 and fan.life_h == 50_000


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("size_mm", "huge", "'huge' is not a number"),
        ("size_mm", "9999", "is out of range"),
        ("power_w", "1,200", "'1,200' is not a number"),
        ("curve.points_m3h_pa", "0 18\n40 12 7", "point 2 is not a pair of numbers"),
        ("curve.points_m3h_pa", "40 12\n0 18", "point 2 does not rise"),
        ("curve.points_m3h_pa", "0 0\n10 0", "is a first point without pressure"),
        ("min_rpm", "2000", "min_rpm must not be above max_rpm"),
        ("maker", "Nobody Ever", "is not known"),
        ("code", "two words", "is not a code"),
        ("name", "", "is empty"),
        ("control", "magic", "is not known"),
        ("source", "oracle", "is not known"),
    ],
)
def test_what_is_refused_is_kept_and_said(member, name, value, words):
    page = Page(member.post(FANS, FAN | {name: value}))
    assert words in page.text and not Fan.objects.private().exists()
    kept = {key: text for key, text in (FAN | {name: value}).items() if key not in ("control", "source")}
    assert {key: page.entries[key] for key in kept} == kept


def test_a_switch_needs_its_steps(member):
    page = Page(member.post(FANS, FAN | {"control": "switch"}))
    assert "is empty although a switch sets the speed" in page.text
    member.post(FANS, FAN | {"control": "switch", "steps_rpm": "400 800 1200"})
    assert Fan.objects.owned_by(member.user).get().steps_rpm == [400, 800, 1200]


def test_twice_the_same_word_is_told(member):
    member.post(FANS, FAN)
    assert "is the code of a fan already" in Page(member.post(FANS, FAN)).text
    assert Fan.objects.owned_by(member.user).count() == 1


def test_no_more_than_one_may_have(member, settings):
    settings.OWN_PARTS = 1
    member.post(FANS, FAN)
    page = Page(member.post(FANS, FAN | {"code": "second"}))
    assert "You have 1 own parts" in page.text and page.entries["name"] == FAN["name"]


def test_changing_keeps_what_the_form_does_not_show(member):
    part = own(Fan, member.user)
    Fan.objects.filter(pk=part.pk).update(source="own-estimate")
    of = ContentType.objects.get_for_model(Fan)
    FigureNote.objects.create(content_type=of, object_id=part.pk, figure="power_w", uncertainty=0.3, relative=False)
    address = f"{FANS}{part.code}/"
    page = Page(member.get(address))
    answer = member.post(address, page.sent(price="12.5"), follow=True)
    assert "It is changed" in Page(answer).text
    now = Fan.objects.get(pk=part.pk)
    assert now.price == 12.5 and now.code == part.code
    kind = KIND_OF["fans"]
    assert figures_of(kind, now) | {"price": 0} == figures_of(kind, part) | {"price": 0}
    assert now.notes.get(figure="power_w").uncertainty == 0.3


@each_plain_kind
def test_a_form_sent_as_it_stands_changes_nothing(member, kind):
    member.post(f"/own/{kind.path}/", filled_as(kind, kind.layout.model.objects.public().first()))
    mine = kind.layout.model.objects.owned_by(member.user).get()
    before = block(kind, mine)
    form = OwnPartForm(kind.layout, initial=texts_of(kind.layout, before), is_new=False)
    address = f"/own/{kind.path}/{mine.code}/"
    sent = {field.name: field.value() for field in form if field.value() not in (None, False, "")}
    sent["version"] = Page(member.get(address)).entries["version"]
    assert "It is changed" in Page(member.post(address, sent, follow=True)).text
    assert block(kind, kind.layout.model.objects.get(pk=mine.pk)) == before


def test_a_stale_form_is_told_and_kept(member):
    member.post(FANS, FAN)
    part = Fan.objects.owned_by(member.user).get()
    address = f"{FANS}{part.code}/"
    first, second = Page(member.get(address)), Page(member.get(address))
    member.post(address, first.sent(price="11"))
    page = Page(member.post(address, second.sent(price="12")))
    assert "It was changed since you opened this form" in page.text and page.entries["price"] == "12"
    assert Fan.objects.get(pk=part.pk).price == 11


def test_other_peoples_and_public_parts_cannot_be_changed(member, other):
    for part in (own(Fan, other.user), Fan.objects.public().first()):
        address = f"{FANS}{part.code}/"
        assert member.get(address).status_code == member.post(address, FAN).status_code == 404


@pytest.mark.parametrize("name", ["name", "code", "maker", "size_mm", "curve.points_m3h_pa", "steps_rpm", "source"])
def test_hostile_words_stay_words(member, name):
    response = member.post(FANS, FAN | {name: HOSTILE})
    page = Page(response)
    assert is_inline(page) == [] and "<script>alert" not in response.content.decode()
    assert page.entries[name] == HOSTILE or name == "source"
    assert not Fan.objects.private().exists()


def test_a_long_text_is_refused_in_few_words(member):
    response = member.post(FANS, FAN | {"curve.points_m3h_pa": "1 2\n" * 60_000})
    assert response.status_code == 200 and "has 60000 points" in Page(response).text
    response = member.post(FANS, FAN | {"name": "x" * 300_000})
    assert "is 300000 characters long" in Page(response).text


@pytest.mark.parametrize("model", [Fan, Cooler, Supply, Drive, Graphics])
def test_the_form_asks_the_database_a_few_times_only(member, model):
    kind = next(kind for kind in PLAIN_KINDS if kind.layout.model is model)
    assert queries(member, f"/own/{kind.path}/") <= 4
