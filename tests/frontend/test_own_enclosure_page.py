"""Entering an own enclosure: what is typed, what would be derived, what is stored, and entering it again."""

import pytest
import yaml
from django.http import QueryDict

from advisor.models import TapeRecord
from advisor.tape.block import enclosure_of
from advisor.tape.fields import ONE_OF, PANEL, PARTS, WHOLE
from advisor.tape.geometry import FACES
from advisor.tape.reading import read_tape
from catalog.models import Enclosure
from frontend.forms.own_enclosure import TapeForm, texts_of
from frontend.forms.tape_words import LABELS, WORDS
from tests.advisor.tape.machines import ENTRIES
from tests.frontend.pages import HOSTILE, queries
from tests.frontend.parts import TAPE, Page, is_inline, own

ENTER = "/own/enclosure/"
SHEETS = [(path.stem, entry) for path in sorted(ENTRIES.glob("*.yaml")) for entry in yaml.safe_load(path.read_text())]


def stored(user):
    return Enclosure.objects.owned_by(user).get()


def typed(entry, **changes):
    """What a browser sends of the form filled in with an entry."""
    form = TapeForm.filled(entry)
    counts = {f"{key}-count": str(count) for key, count in form.rows.items()}
    return {**texts_of(entry), **counts, **changes}


def test_every_field_has_an_entry_with_a_name_for_people(member):
    page = Page(member.get(ENTER))
    names = [field.name for field in WHOLE] + [f"panels-{face}-{field.name}" for face in FACES for field in PANEL]
    names += [f"{key}-0-{field.name}" for key, (fields, _) in PARTS.items() for field in fields]
    names += [f"{key}-{field.name}" for key, fields in ONE_OF.items() for field in fields]
    sent = {given.get("name") for _, given in page.tags}
    assert set(names) <= sent and is_inline(page) == [] and len(page.ids) == len(set(page.ids))
    assert "pull the mains plug" in page.text and "Before you measure" in page.text


def test_names_and_words_are_of_fields_that_exist():
    fields = [*WHOLE, *PANEL, *(field for fields, _ in PARTS.values() for field in fields)]
    fields += [field for of in ONE_OF.values() for field in of]
    by_name = {field.name: set() for field in fields}
    for field in fields:
        by_name[field.name] |= set(field.choices)
    assert set(LABELS) <= set(by_name)
    for name, words in WORDS.items():
        assert set(words) <= by_name[name], name


@pytest.mark.parametrize(("name", "entry"), SHEETS, ids=[name for name, _ in SHEETS])
def test_the_form_says_what_a_file_says(name, entry):
    data = QueryDict(mutable=True)
    for key, value in typed(entry).items():
        data.setlist(key, value if isinstance(value, list) else [value])
    form = TapeForm(data)
    given = form.given()
    assert read_tape(given).entry == read_tape(entry).entry and read_tape(given).problems == ()


@pytest.mark.parametrize(("name", "entry"), SHEETS[::4], ids=[name for name, _ in SHEETS[::4]])
def test_the_preview_shows_every_derived_figure(member, name, entry):
    response = member.post(ENTER, typed(entry, do="preview"))
    page, preview = Page(response), response.context["preview"]
    derived = enclosure_of(read_tape(entry).entry, "x").derived
    assert preview.count == len(derived) == sum(len(group.lines) for group in preview.groups)
    assert {(line.relation, line.source) for line in derived} == {
        (one.equation, one.source) for one in preview.relations
    }
    for one in preview.relations:
        assert one.equation in page.text and one.source in page.text
    for group in preview.groups:
        for line in group.lines:
            assert line.name in page.text and line.value in page.text
    assert is_inline(page) == [] and not Enclosure.objects.exists()


def test_it_is_stored_after_a_look_at_what_is_derived(member):
    page = Page(member.post(ENTER, TAPE))
    assert "What would be stored" in page.text and not Enclosure.objects.exists()
    answer = member.post(ENTER, page.sent(do="store"), follow=True)
    row = stored(member.user)
    assert answer.redirect_chain == [(f"/catalogue/enclosures/{row.code}/", 302)] and row.width_mm == 210
    assert TapeRecord.objects.get(enclosure=row).given == {
        "name": "Attic box", "width_mm": 210, "height_mm": 450, "depth_mm": 420
    }  # fmt: skip


def test_twice_the_same_store_makes_one(member):
    member.post(ENTER, TAPE | {"do": "store"})
    page = Page(member.post(ENTER, TAPE | {"do": "store"}))
    assert "already" in page.text and page.entries["width_mm"] == "210" and Enclosure.objects.count() == 1


def test_what_is_wrong_is_said_beside_its_entry_and_nothing_is_lost(member):
    sent = TAPE | {
        "height_mm": "wide",
        "fans-count": "3",
        "fans-1-face": "rear",
        "fans-1-size_mm": "999",
        "panels-front-holes_share": "1.5",
        "bays-0-count": "",
        "bays-0-hot_swap": "true",
        "do": "store",
    }
    response = member.post(ENTER, sent)
    page = Page(response)
    assert "4 things to put right" in page.text
    assert "Fans, place 2: 999 is out of range" in page.text and "Front: 1.5 is out of range" in page.text
    assert "'wide' is not a number" in page.text and "Bays, place 1: Nothing is entered" in page.text
    assert {name: page.entries[name] for name in sent if name != "do"} == {
        name: value for name, value in sent.items() if name != "do"
    }
    for tag, given in page.tags:
        if tag == "a" and str(given.get("href", "")).startswith("#id_"):
            assert given["href"][1:] in page.ids
    folds = {fold.title: fold.is_open for fold in response.context["page"].panels}
    assert folds["Front"] and not folds["Rear"] and not Enclosure.objects.exists()


def test_what_contradicts_is_said(member):
    page = Page(member.post(ENTER, TAPE | {"supply-chamber": "second"}))
    assert "is not there without a divider" in page.text


@pytest.mark.parametrize(("key", "first", "most"), [("fans", 2, 20), ("bays", 1, 10)])
def test_more_places_come_one_by_one(member, key, first, most):
    page = Page(member.post(ENTER, TAPE | {"do": f"more-{key}"}))
    assert f"{key}-{first}-count" in page.entries and page.entries["width_mm"] == "210"
    sent = page.sent() | {f"{key}-count": str(most), "do": f"more-{key}"}
    page = Page(member.post(ENTER, sent))
    assert f"{key}-{most - 1}-count" in page.entries and f"{key}-{most}-count" not in page.entries
    assert f"more-{key}" not in [given.get("value") for _, given in page.tags]


@pytest.mark.parametrize("count", ["-1", "999999", "x", "1e9", ""])
def test_a_made_up_number_of_places_is_bounded(member, count):
    page = Page(member.post(ENTER, TAPE | {"fans-count": count}))
    assert sum(name.startswith("fans-") and name.endswith("-size_mm") for name in page.entries) <= 20


def entered(member, **changes):
    member.post(ENTER, TAPE | changes | {"do": "store"})
    return stored(member.user)


def test_entering_again_starts_with_what_was_entered(member):
    row = entered(member, **{"fans-0-face": "rear", "fans-0-size_mm": "120", "orientations": ["upright", "on_left"]})
    address = f"/own/enclosure/{row.code}/"
    page = Page(member.get(address))
    assert page.entries["fans-0-size_mm"] == "120" and page.entries["fans-0-face"] == "rear"
    assert "code" not in page.entries
    before = row.openings.count()
    sent = page.sent(height_mm="460", do="store", **{"fans-1-face": "front", "fans-1-size_mm": "140"})
    assert "It is stored" in Page(member.post(address, sent, follow=True)).text
    now = Enclosure.objects.get(pk=row.pk)
    assert (now.code, now.height_mm) == (row.code, 460) and now.openings.count() > before
    assert TapeRecord.objects.get(enclosure=now).given["height_mm"] == 460
    assert len(TapeRecord.objects.get(enclosure=now).given["fans"]) == 2


def test_entering_again_in_two_tabs_is_told(member):
    row = entered(member)
    address = f"/own/enclosure/{row.code}/"
    first, second = Page(member.get(address)), Page(member.get(address))
    member.post(address, first.sent(height_mm="460", do="store"))
    page = Page(member.post(address, second.sent(height_mm="470", do="store")))
    assert "It was changed since you opened this form" in page.text and page.entries["height_mm"] == "470"
    assert Enclosure.objects.get(pk=row.pk).height_mm == 460


def test_one_that_was_not_entered_by_tape_starts_with_its_outside(small_catalogue, member):
    row = own(Enclosure, member.user)
    page = Page(member.get(f"/own/enclosure/{row.code}/"))
    assert float(page.entries["width_mm"]) == row.width_mm and page.entries["name"] == row.name


def test_other_peoples_enclosures_are_not_there(member, other):
    address = f"/own/enclosure/{entered(member).code}/"
    assert other.get(address).status_code == other.post(address, TAPE).status_code == 404
    assert member.get("/own/enclosure/own-aaaaaaaa-nothing/").status_code == 404


def test_what_was_entered_goes_with_its_enclosure(member):
    row = entered(member)
    member.post(f"/own/enclosures/{row.code}/delete/")
    assert not TapeRecord.objects.exists()


@pytest.mark.parametrize("name", ["name", "code", "width_mm", "fans-0-face", "panels-front-material", "version"])
def test_hostile_words_stay_words(member, name):
    response = member.post(ENTER, TAPE | {name: HOSTILE})
    page = Page(response)
    assert is_inline(page) == [] and "<script>alert" not in response.content.decode()
    assert not page.entries.get(name) or page.entries[name] == HOSTILE
    assert not Enclosure.objects.exists()


def test_a_very_long_text_is_refused_in_few_words(member):
    response = member.post(ENTER, TAPE | {"name": "x" * 400_000})
    assert "is 400000 characters long" in Page(response).text


def test_it_asks_the_database_a_few_times_only(small_catalogue, member):
    row = entered(member)
    assert queries(member, ENTER) <= 3
    assert queries(member, f"/own/enclosure/{row.code}/") <= 12
