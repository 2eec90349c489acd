"""The catalogue's admin pages: what they show, to whom, and with how many queries."""

import re

import pytest
from django.contrib.auth.models import Group, User
from django.urls import reverse
from django.utils.html import strip_tags

from catalog.admin import PartAdmin
from catalog.built_in import ESTIMATE
from catalog.formats import PARTS
from catalog.models import CatalogLoad, Cooler, Enclosure, Fan, FigureNote, Maker, Source
from catalog.offers import offer
from tests.catalog.owning import make_own
from tests.catalog.pages import breaks_policy

MODELS = [layout.model._meta.model_name for layout in PARTS.values()]


@pytest.fixture
def keeper(client, loaded):
    curator = User.objects.create(username="cora")
    curator.groups.add(Group.objects.get(name="curator"))
    client.force_login(curator)
    return client


@pytest.fixture
def ann(db):
    return User.objects.create(username="ann")


def _list_of(name):
    return reverse(f"admin:catalog_{name}_changelist")


def _page_of(part):
    return reverse(f"admin:catalog_{part._meta.model_name}_change", args=[part.pk])


def _rows(response):
    return set(response.context["cl"].queryset)


@pytest.mark.parametrize("name", [*MODELS, "source", "maker", "catalogload"])
def test_lists_can_be_searched(keeper, name):
    response = keeper.get(_list_of(name), {} if name == "catalogload" else {"q": "marl"})
    assert response.status_code == 200


@pytest.mark.parametrize("name", MODELS)
def test_every_part_shows_who_says_so(keeper, name):
    layout = next(layout for layout in PARTS.values() if layout.model._meta.model_name == name)
    part = layout.model.objects.first()
    assert f"<td>{part.source_id}</td>" in keeper.get(_page_of(part)).content.decode()


def test_provenance_says_how_sure_a_figure_is(loaded):
    from django.contrib import admin

    table = PartAdmin(Cooler, admin.site).provenance(Cooler.objects.get(code="cooler-tower"))
    rows = [" | ".join(re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)) for row in table.split("<tr>")]
    assert "r_air_k_w | 0.15 | K/W | ± 0.01 K/W, stated | measured | bench" in rows
    assert "price | 40 | EUR | exact | measured | bench" in rows
    assert "sound_rpm_dba | 400 / 12, 1500 / 34 | dB | ± 0.4 dB, stated | measured | bench" in rows


def test_curators_see_public_parts_and_those_on_offer(keeper, ann, now):
    private = make_own(Fan.objects.first(), ann, "private")
    offered = offer(part=make_own(Fan.objects.public().first(), ann, "offered"), by=ann, now=now)
    public = set(Fan.objects.public())
    assert _rows(keeper.get(_list_of("fan"))) == {*public, offered}
    assert _rows(keeper.get(_list_of("fan"), {"standing": "offered"})) == {offered}
    assert _rows(keeper.get(_list_of("fan"), {"standing": "public"})) == public
    assert (
        keeper.get(_page_of(private)).status_code == keeper.get("/admin/catalog/fan/99999/change/").status_code == 302
    )


def test_an_offered_part_is_only_looked_at(keeper, ann, now):
    offered = offer(part=make_own(Fan.objects.first(), ann), by=ann, now=now)
    page = keeper.get(_page_of(offered))
    assert page.status_code == 200 and 'name="_save"' not in page.content.decode()
    assert keeper.post(_page_of(offered), {"name": "Mine now"}).status_code == 403
    assert keeper.post(reverse("admin:catalog_fan_delete", args=[offered.pk]), {"post": "yes"}).status_code == 403


def test_built_in_sources_stay_as_they_are(keeper):
    source = Source.objects.get(code=ESTIMATE)
    assert keeper.post(_page_of(source), {"code": ESTIMATE, "kind": "declared"}).status_code == 403
    assert keeper.post(reverse("admin:catalog_source_delete", args=[source.pk]), {"post": "yes"}).status_code == 403


def test_what_parts_rest_on_stays_and_own_parts_are_not_named(keeper, ann):
    make_own(Fan.objects.first(), ann, "secret")
    source = Source.objects.get(code=Fan.objects.public().first().source_id)
    page = keeper.post(reverse("admin:catalog_source_delete", args=[source.pk]), {"post": "yes"}).content.decode()
    assert "one own part" in page and "secret" not in page
    assert Source.objects.filter(pk=source.pk).exists()


@pytest.mark.parametrize("word", ["code", "name"])
def test_names_that_parts_refer_by_never_change(keeper, word):
    page = keeper.get(_page_of(Maker.objects.get(code="marl"))).content.decode()
    assert f'name="{word}"' not in page


def test_the_page_of_enclosures_says_where_to_add_one(keeper):
    said = "/api/v1/own-enclosures/"
    assert said in strip_tags(keeper.get(_list_of("enclosure")).content.decode())
    answer = keeper.get(reverse("admin:catalog_enclosure_add"), follow=True)
    assert said in str(next(iter(answer.context["messages"])))


def test_loads_are_only_looked_at(keeper):
    page = keeper.get(_page_of(CatalogLoad.objects.get()))
    assert page.status_code == 200 and 'name="_save"' not in page.content.decode()


def _count(asserting, ask):
    with asserting(500) as counted:
        assert ask().status_code == 200
    return len(counted)


def _copy(part, number):
    part.pk, part.code = None, f"copy-{number}"
    part.save()


def test_a_list_takes_as_many_queries_however_long(keeper, ann, now, django_assert_max_num_queries):
    before = _count(django_assert_max_num_queries, lambda: keeper.get(_list_of("fan")))
    for number in range(5):
        _copy(Fan.objects.public().first(), number)
        offer(part=make_own(Fan.objects.public().first(), ann, f"a{number}"), by=ann, now=now)
    assert _count(django_assert_max_num_queries, lambda: keeper.get(_list_of("fan"))) == before


def test_a_page_takes_as_many_queries_however_much_is_inside(keeper, django_assert_max_num_queries):
    enclosure = Enclosure.objects.get()
    before = _count(django_assert_max_num_queries, lambda: keeper.get(_page_of(enclosure)))
    for number in range(4):
        zone = enclosure.zones.create(code=f"z{number}", x_mm=1, y_mm=1, z_mm=1, wall_w_k=1)
        opening = enclosure.openings.first()
        opening.pk, opening.code, opening.to_zone = None, f"o{number}", zone
        opening.save()
        FigureNote.objects.create(part=enclosure, figure=f"openings.o{number}.area_cm2", source_id="sheet")
    assert _count(django_assert_max_num_queries, lambda: keeper.get(_page_of(enclosure))) == before


def test_an_offered_page_takes_as_many_queries_however_much_is_inside(keeper, ann, now, django_assert_max_num_queries):
    enclosure = Enclosure.objects.get()
    enclosure.code, enclosure.owner = "own-aaaaaann-box", ann
    enclosure.save()
    offer(part=enclosure, by=ann, now=now)
    before = _count(django_assert_max_num_queries, lambda: keeper.get(_page_of(enclosure)))
    for number in range(4):
        opening = enclosure.openings.first()
        opening.pk, opening.code = None, f"o{number}"
        opening.save()
    assert _count(django_assert_max_num_queries, lambda: keeper.get(_page_of(enclosure))) == before


def test_pages_hold_no_inline_script_or_style(keeper):
    for model in (Enclosure, Fan, Maker, Source, CatalogLoad):
        addresses = [_list_of(model._meta.model_name), _page_of(model.objects.first())]
        addresses += [addresses[0] + "add/", reverse("admin:index")]
        for address in addresses:
            assert breaks_policy(keeper.get(address, follow=True).content.decode()) == [], address


def test_the_look_for_inline_scripts_finds_them():
    assert len(breaks_policy('<p style="x"><a onclick="y"><script>z</script><style>')) == 4
    assert breaks_policy('<script src="a.js"></script><script type="application/json">{}</script>') == []
