"""Saving through the admin pages obeys the same checks as loading a file."""

import pytest
from django.urls import reverse

from catalog.models import Enclosure, Fan, FigureNote, Opening, Source, Supply
from tests.catalog.pages import errors_of, form_of


@pytest.fixture
def keeper(admin_client, loaded):
    return admin_client


def _page_of(part):
    return reverse(f"admin:catalog_{part._meta.model_name}_change", args=[part.pk])


def _said(keeper, part, **changes):
    """Send a page with changes and return what is said against it; nothing is stored then."""
    url = _page_of(part)
    response = keeper.post(url, form_of(keeper.get(url)) | changes)
    assert response.status_code == 200
    return errors_of(response)


@pytest.mark.parametrize("model", [Enclosure, Fan, Supply])
def test_a_part_is_saved_as_it_was(keeper, model):
    part = model.objects.first()
    answer = keeper.post(_page_of(part), form_of(keeper.get(_page_of(part))) | {"name": "Marl Renamed"})
    assert answer.status_code == 302, errors_of(answer)
    assert model.objects.first().name == "Marl Renamed"


def test_an_enclosure_that_does_not_hang_together_is_not_saved_but_stays_on_the_page(keeper):
    url = _page_of(Enclosure.objects.get())
    data = form_of(keeper.get(url))
    kind = next(key for key, value in data.items() if value == "cage" and key.endswith("kind"))
    page = keeper.post(url, data | {"name": "Marl Renamed", kind: "passage"})
    assert "bay_groups.cage_35.opening: 'cage' is a passage; accepted: an opening of kind cage" in errors_of(page)
    assert 'value="Marl Renamed"' in page.content.decode()
    assert Enclosure.objects.get().name == "Marl Tower Case"
    assert Opening.objects.get(code="cage").kind == "cage"


def test_two_openings_cannot_be_the_supplys(keeper):
    enclosure = Enclosure.objects.get()
    data = form_of(keeper.get(_page_of(enclosure)))
    kind = next(key for key, value in data.items() if value == "passage" and key.endswith("kind"))
    assert "This breaks a rule of the database" in _said(keeper, enclosure, **{kind: "supply"})


def test_supplies_of_one_air_path_must_agree(keeper):
    one, other = Supply.objects.all()[:2]
    Supply.objects.filter(pk=other.pk).update(
        **{name: getattr(one, name) for name in vars(one) if name.startswith(("curve_", "path_", "air_path"))}
    )
    said = _said(keeper, other, path_loss=one.path_loss + 1)
    assert f"air_path: '{one.air_path}' is the air path of catalogue, supply '{one.code}' too" in said


@pytest.mark.parametrize(
    ("note", "said"),
    [
        ({"figure": "r_air_k_w", "source": "sheet"}, "sources.r_air_k_w: 'sheet' is not a figure of this part"),
        ({"figure": "curve", "uncertainty": "0.2"}, "uncertainty.curve: 0.2 does not suit a list of points"),
    ],
)
def test_a_note_is_on_a_figure_and_suits_it(keeper, note, said):
    fan = Fan.objects.get(code="fan-120-switch")
    prefix = "catalog-figurenote-content_type-object_id"
    changes = {f"{prefix}-0-{name}": value for name, value in note.items()}
    assert said in _said(keeper, fan, **{f"{prefix}-TOTAL_FORMS": 1, **changes})
    assert not FigureNote.objects.filter(object_id=fan.pk, content_type__model="fan").exists()


def _add(keeper, like, **changes):
    url = reverse(f"admin:catalog_{like._meta.model_name}_add")
    data = form_of(keeper.get(_page_of(like)))
    return keeper.post(url, data | {"code": "brand-new"} | changes)


def test_a_part_can_be_added(keeper):
    answer = _add(keeper, Fan.objects.get(code="fan-120-switch"))
    assert answer.status_code == 302, errors_of(answer)
    assert Fan.objects.public().get(code="brand-new").owner is None


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("fan-120", "already exists"),
        ("cooler-tower", "is already loaded as one of the coolers"),
        ("own-x", "begins with own-, as only own parts do"),
        ("two words", "is not a code"),
    ],
)
def test_a_new_part_needs_a_code_of_its_own(keeper, code, said):
    answer = _add(keeper, Fan.objects.get(code="fan-120-switch"), code=code)
    assert answer.status_code == 200 and said in errors_of(answer)


def test_an_empty_form_names_what_is_missing(keeper):
    answer = keeper.post(reverse("admin:catalog_fan_add"))
    assert answer.status_code == 200 and "This field is required" in errors_of(answer)


def test_a_source_cannot_take_the_beginning_of_own_ones(keeper):
    answer = keeper.post(reverse("admin:catalog_source_add"), {"code": "own-idea", "kind": "estimated"})
    assert "begins with own-" in errors_of(answer) and not Source.objects.filter(code="own-idea").exists()
