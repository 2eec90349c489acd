"""The catalogue's admin pages."""

import pytest
from django.urls import reverse

from catalog.admin import PartAdmin
from catalog.formats import PARTS
from catalog.models import Cooler, Enclosure, Opening

MODELS = [layout.model._meta.model_name for layout in PARTS.values()]


@pytest.fixture
def keeper(admin_client, loaded):
    return admin_client


def _form(response):
    """Everything that the page's form would send back."""
    data = {}
    forms = [response.context["adminform"].form]
    for inline in response.context["inline_admin_formsets"]:
        forms += [inline.formset.management_form, *inline.formset.forms]
    for form in forms:
        for bound in form:
            value = bound.value()
            if value is not None and value is not False:
                data[bound.html_name] = value
    return data


@pytest.mark.parametrize("name", [*MODELS, "source", "maker", "catalogload"])
def test_lists_can_be_searched(keeper, name):
    response = keeper.get(reverse(f"admin:catalog_{name}_changelist"), {} if name == "catalogload" else {"q": "marl"})
    assert response.status_code == 200


@pytest.mark.parametrize("name", MODELS)
def test_every_part_shows_who_says_so(keeper, name):
    layout = next(layout for layout in PARTS.values() if layout.model._meta.model_name == name)
    part = layout.model.objects.first()
    response = keeper.get(reverse(f"admin:catalog_{name}_change", args=[part.pk]))
    assert f"({part.source_id})" in response.content.decode()


def test_provenance_says_how_sure_a_figure_is(loaded):
    from django.contrib import admin

    text = PartAdmin(Cooler, admin.site).provenance(Cooler.objects.get(code="cooler-tower"))
    assert "<div>r_air_k_w: ± 0.01 K/W, measured (bench)</div>" in text
    assert "<div>price: exact, measured (bench)</div>" in text


def test_a_list_of_parts_takes_as_many_queries_as_ever(keeper, django_assert_max_num_queries):
    with django_assert_max_num_queries(10):
        keeper.get(reverse("admin:catalog_enclosure_changelist"))


def test_an_enclosure_is_saved_as_it_was(keeper):
    url = reverse("admin:catalog_enclosure_change", args=[Enclosure.objects.get().pk])
    data = _form(keeper.get(url)) | {"name": "Marl Renamed"}
    response = keeper.post(url, data)
    assert response.status_code == 302, response.context["errors"]
    assert Enclosure.objects.get().name == "Marl Renamed"


def test_an_enclosure_that_does_not_hang_together_is_not_saved(keeper):
    url = reverse("admin:catalog_enclosure_change", args=[Enclosure.objects.get().pk])
    data = _form(keeper.get(url)) | {"name": "Marl Renamed"}
    kind = next(key for key, value in data.items() if value == "cage" and key.endswith("kind"))
    response = keeper.post(url, data | {kind: "passage"}, follow=True)
    assert "bay_groups.cage_35.opening: cage is a passage" in str(next(iter(response.context["messages"])))
    assert Enclosure.objects.get().name == "Marl Tower Case"
    assert Opening.objects.get(code="cage").kind == "cage"


def test_links_offer_only_zones_of_the_same_enclosure(keeper):
    twin = Enclosure.objects.get()
    twin.pk, twin.code = None, "twin"
    twin.save()
    twin.zones.create(code="elsewhere", x_mm=1, y_mm=1, z_mm=1, wall_w_k=1)
    url = reverse("admin:catalog_enclosure_change", args=[Enclosure.objects.get(code="tower").pk])
    assert "elsewhere" not in keeper.get(url).content.decode()


def test_enclosures_are_not_added_by_hand(keeper):
    assert keeper.get(reverse("admin:catalog_enclosure_add")).status_code == 403


def test_loads_are_only_looked_at(keeper):
    assert keeper.get(reverse("admin:catalog_catalogload_add")).status_code == 403
