"""Single parts: read by everyone, written by those who may."""

import pytest
from django.contrib.contenttypes.models import ContentType

from catalog.importing.loading import catalog_digest
from catalog.models import Enclosure, Fan
from tests.api.parts import BASE, FAN, FANS, PARTS, READ_ONLY, TOWER, change, each_kind, match, new_fan
from tests.api.test_root import problem_of
from tests.catalog.owning import make_own


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def own_fan(client):
    return client.post(FANS, new_fan(client)).json()["url"].removeprefix("http://testserver")


@pytest.mark.parametrize(**each_kind())
def test_what_is_not_there_is_not_found(curator, kind):
    for code in ("nothing", "with space", "%00", "x" * 65):
        for method in ("get", "put", "patch", "delete"):
            problem_of(getattr(curator, method)(f"{BASE}{kind.path}/{code}/"), 404)


def test_it_shows_everything_inside_an_enclosure(guest):
    body = guest.get(TOWER).json()
    opening = next(opening for opening in body["openings"] if opening["code"] == "front_fans")
    assert (opening["from"], opening["fan_size_mm"], opening["filter"]["class"]) == ("outside", 120, "fine")
    assert sum(body["sound_shares"]["processor"].values()) == pytest.approx(1)
    assert body["sources"]["openings.front_fans"] == "bench"


@pytest.mark.parametrize("address", [FAN, TOWER, f"{FAN}figures/", f"{TOWER}figures/"])
def test_reading_one_takes_few_queries(guest, address, django_assert_max_num_queries):
    ContentType.objects.get_for_models(Fan, Enclosure)
    with django_assert_max_num_queries(8):
        assert guest.get(address).status_code == 200


def test_a_part_that_did_not_change_is_not_sent_again(guest):
    tag = guest.get(TOWER)["ETag"]
    assert guest.get(TOWER, headers={"if-none-match": tag}).status_code == 304
    Enclosure.objects.get().openings.filter(code="front_fans").update(area_cm2=171)
    assert guest.get(TOWER, headers={"if-none-match": tag})["ETag"] != tag


def test_a_page_for_people_is_no_version(guest):
    answer = guest.get(FAN, headers={"accept": "text/html"})
    assert answer["Content-Type"].startswith("text/html") and not answer.has_header("ETag")


def test_figures_say_who_says_so_and_how_sure_it_is(guest):
    figures = {one["name"]: one for one in guest.get(f"{BASE}coolers/cooler-tower/figures/").json()["figures"]}
    assert figures["r_air_k_w"] == {
        "name": "r_air_k_w",
        "value": figures["r_air_k_w"]["value"],
        "unit": "K/W",
        "source": "bench",
        "source_kind": "measured",
        "standard_uncertainty": 0.01,
        "relative": False,
        "stated": True,
    }


@pytest.mark.parametrize("method", ["post", "put", "patch", "delete"])
def test_guests_write_nothing(guest, method):
    problem_of(getattr(guest, method)(FANS if method == "post" else FAN), 401)


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_members_do_not_write_the_catalogue(member, method):
    before = catalog_digest()
    answer = change(member, FAN, method, price=1)
    assert "curators write" in problem_of(answer, 403)["detail"]
    assert catalog_digest() == before


@pytest.mark.parametrize("path", ["makers", "sources"])
def test_only_curators_write_makers_and_sources(member, curator, path):
    body = {
        "makers": {"code": "new", "name": "New"},
        "sources": {"code": "new", "kind": "declared", "date": "2031-05-17"},
    }
    problem_of(member.post(f"{BASE}{path}/", body[path]), 403)
    made = curator.post(f"{BASE}{path}/", body[path])
    assert made.status_code == 201 and made.json().items() >= body[path].items()
    assert curator.delete(f"{BASE}{path}/new/", headers=match(made)).status_code == 204


def test_a_curator_adds_to_the_catalogue(curator, guest):
    answer = curator.post(FANS, new_fan(curator))
    assert answer.status_code == 201 and answer["Location"] == f"http://testserver{FANS}shelf/"
    assert answer.json()["owner"] == "catalogue"
    assert guest.get(answer["Location"]).json() == answer.json()
    assert guest.get(answer["Location"])["ETag"] == answer["ETag"]


def test_a_member_adds_an_own_part_under_a_code_that_nobody_else_can_have(member, other, guest):
    first, second = (client.post(FANS, new_fan(client)) for client in (member, other))
    assert first.status_code == second.status_code == 201
    assert first.json()["code"].startswith("own-") and first.json()["code"].endswith("-shelf")
    assert first.json()["code"] != second.json()["code"] and first.json()["owner"] == "you"
    for client in (guest, other):
        problem_of(client.get(first["Location"]), 404)


def test_a_curator_may_have_own_parts_too(curator, guest):
    answer = curator.post(FANS, new_fan(curator, owner="you"))
    assert answer.json()["owner"] == "you"
    problem_of(guest.get(answer["Location"]), 404)


def test_a_member_cannot_write_for_all(member):
    assert "leave out 'owner'" in problem_of(member.post(FANS, new_fan(member, owner="catalogue")), 403)["detail"]
    (problem,) = problem_of(member.post(FANS, new_fan(member, owner="him")), 422)["problems"]
    assert (problem["field"], problem["accepted"]) == ("owner", "you or catalogue")


@pytest.mark.parametrize("method", ["get", "put", "patch", "delete"])
def test_another_s_part_is_not_there(member, other, curator, method):
    own = own_fan(member)
    for client in (other, curator):
        problem_of(getattr(client, method)(own, headers={"if-match": "*"}), 404)
    assert member.get(own).status_code == 200


@pytest.mark.parametrize(**each_kind(PARTS))
def test_own_parts_of_every_kind_are_written_and_deleted(member, kind):
    first = kind.layout.model.objects.first()
    body = member.get(f"{BASE}{kind.path}/{first.code}/").json()
    made = member.post(f"{BASE}{kind.path}/", {key: body[key] for key in body if key not in READ_ONLY})
    assert made.status_code == 201, made.content
    changed = change(member, made["Location"], price=77)
    assert changed.json() == made.json() | {"price": 77}
    assert member.delete(made["Location"], headers=match(changed)).status_code == 204
    problem_of(member.get(made["Location"]), 404)


def test_only_so_many_own_parts(member, settings):
    settings.OWN_PARTS = 1
    own_fan(member)
    assert "You have 1 own parts" in problem_of(member.post(FANS, new_fan(member, code="next")), 409)["detail"]


def test_an_own_part_made_elsewhere_is_read_too(member):
    own = make_own(Enclosure.objects.first(), member.user)  # nothing inside yet
    body = member.get(f"{BASE}enclosures/{own.code}/").json()
    assert (body["openings"], body["supply_opening"]) == ([], "")
