"""A part's page: every figure with how sure it is and who says so; curves, openings and bays where it has them."""

import pytest
from django.contrib.contenttypes.models import ContentType

from catalog.formats import PARTS
from catalog.kinds import KIND_OF
from catalog.models import Enclosure, Fan, FigureNote, Source, Supply
from catalog.provenance import SPREADS, figures
from frontend.contexts.columns import NAMING, by_subject, keys_of
from tests.frontend.pages import HOSTILE, queries
from tests.frontend.parts import Page, each_kind, each_part_kind, is_inline, own

FANS = "/catalogue/fans/"


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def address(kind, row):
    return f"/catalogue/{kind.path}/{row.code}/"


def squeezed(page):
    return " ".join(page.text.split())


def test_every_key_of_every_kind_has_one_subject():
    for file, layout in PARTS.items():
        placed = [key for _, keys in by_subject(layout) for key, _ in keys]
        assert sorted(placed) == sorted({key for key, _ in keys_of(layout)} - set(NAMING)), file


@pytest.mark.parametrize(**each_kind())
def test_every_part_maker_and_source_has_a_page(guest, kind):
    for row in kind.layout.model.objects.all():
        response = guest.get(address(kind, row))
        page = Page(response)
        assert response.status_code == 200 and getattr(row, "name", row.code) in page.text
        assert is_inline(page) == [] and len(page.ids) == len(set(page.ids))


@pytest.mark.parametrize(**each_part_kind())
def test_it_names_every_source_and_whose_it_is(guest, kind):
    row = kind.layout.model.objects.first()
    page = Page(guest.get(address(kind, row)))
    assert {f"/catalogue/sources/{one.source}/" for one in figures(row)} <= set(page.links())
    assert f"/catalogue/makers/{row.maker.code}/" in page.links() and "In the public catalogue" in page.text


def test_a_figure_has_its_unit_and_the_usual_uncertainty_of_its_source(guest):
    row = Fan.objects.first()
    row.source.kind, row.source.bench, row.power_w = "measured", "anechoic bench", 2.5
    row.source.save()
    row.save()
    row.notes.all().delete()
    text = squeezed(Page(guest.get(address(KIND_OF["fans"], row))))
    u = SPREADS["power"].measured * 2.5
    assert f"2.50 ± {u:.2f} W" in text and "± as is usual for measured figures" in text
    assert "measured on anechoic bench" in text


def test_a_stated_uncertainty_and_another_source_are_told(guest):
    row, other = Fan.objects.first(), Source.objects.create(code="attic-notes", kind="estimated")
    row.power_w = 2.5
    row.save()
    row.notes.all().delete()
    of = ContentType.objects.get_for_model(Fan)
    FigureNote.objects.create(
        content_type=of, object_id=row.pk, figure="power_w", source=other, uncertainty=0.4, relative=False
    )
    page = Page(guest.get(address(KIND_OF["fans"], row)))
    assert "2.5 ± 0.4\u202fW" in page.text and "± as stated" in page.text
    assert "/catalogue/sources/attic-notes/" in page.links()


def test_a_fan_shows_its_measured_curve_and_every_point(guest):
    row = Fan.objects.first()
    response = guest.get(address(KIND_OF["fans"], row))
    assert [chart.key for chart in response.context["part"].charts] == ["pressure", "sound"]
    charts = response.context["part"].charts
    assert len(charts[0].rows) == len(row.curve_points_m3h_pa) and len(charts[1].rows) == len(row.sound_rpm_dba)


def test_a_supply_shows_the_curve_of_its_fan(guest):
    row = Supply.objects.first()
    assert len(guest.get(address(KIND_OF["supplies"], row)).context["part"].charts) == 1


def test_an_enclosure_shows_its_openings_bays_seats_and_sound(guest):
    row = Enclosure.objects.first()
    response = guest.get(address(KIND_OF["enclosures"], row))
    part = response.context["part"]
    counts = {section.title: len(section.table.rows) for section in part.inside}
    assert counts == {
        "Every opening": row.openings.count(),
        "Zones of air": row.zones.count(),
        "Bays for drives": row.bay_groups.count(),
        "Where parts sit": row.seats.count(),
        "Where the sound leaves": row.sound_shares.count() + 1,
    }
    drawn = {stream.code: stream.number for stream in part.air.figures.streams}
    for opening, line in zip(row.openings.all(), part.inside[0].table.rows, strict=True):
        assert line[0].quiet.startswith(f"no. {drawn[opening.code]}, ")


@pytest.mark.parametrize(**each_part_kind())
def test_other_peoples_parts_are_not_there(guest, member, other, kind):
    part = own(kind.layout.model, member.user)
    there = address(kind, part)
    nowhere = there.replace(part.code, "own-aaaaaaaa-nothing")
    assert member.get(there).status_code == 200 and "nobody else sees it" in Page(member.get(there)).text
    for client in (guest, other):
        assert client.get(there).status_code == 404
        assert Page(client.get(there)).text == Page(client.get(nowhere)).text


@pytest.mark.parametrize("code", ["nothing", "a b", "%00", "..", "\u202e", "x" * 65])
def test_a_code_of_nothing_leads_nowhere(guest, code):
    assert guest.get(f"{FANS}{code}/").status_code == 404


@pytest.mark.parametrize("kind", [KIND_OF["fans"], KIND_OF["enclosures"]], ids=lambda kind: kind.path)
def test_it_asks_as_often_with_many_parts_and_sources_as_with_few(guest, kind):
    there = address(kind, kind.layout.model.objects.first())
    before = queries(guest, there)
    Source.objects.bulk_create(Source(code=f"s{n}", kind="estimated") for n in range(40))
    row = kind.layout.model.objects.first()
    of = ContentType.objects.get_for_model(kind.layout.model)
    figure = "power_w" if kind.path == "fans" else "openings.area_cm2"
    row.notes.filter(figure=figure).delete()
    FigureNote.objects.create(content_type=of, object_id=row.pk, figure=figure, source=Source.objects.get(code="s7"))
    assert queries(guest, there) == before <= 11


def test_hostile_words_stay_words(member):
    part = own(Fan, member.user)
    Fan.objects.filter(pk=part.pk).update(name=HOSTILE[:120], decline_note=HOSTILE)
    response = member.get(address(KIND_OF["fans"], part))
    page = Page(response)
    assert HOSTILE in page.text and is_inline(page) == [] and "<script>alert" not in response.content.decode()


def test_a_source_leads_to_the_parts_that_rest_on_it(guest, member):
    row = Fan.objects.first()
    own(Fan, member.user)
    page, mine = (
        Page(client.get(f"/catalogue/sources/{row.source_id}/")).text.replace("\n", "") for client in (guest, member)
    )
    count = Fan.objects.public().filter(source=row.source).count()
    assert f"Fans: {count}" in page and f"Fans: {count + 1}" in mine
    assert queries(guest, f"/catalogue/sources/{row.source_id}/") == 2
    assert "Fans: " not in Page(guest.get("/catalogue/makers/own/")).text
    assert "No part that you may use names it" in Page(guest.get("/catalogue/makers/own/")).text
