"""Changes of parts, makers and sources: in the version that was seen, and not of what others rest on."""

import pytest

from catalog.models import Enclosure, Fan, FigureNote, Maker
from tests.api.parts import BASE, FAN, FANS, TOWER, change, codes, match, new_fan
from tests.api.test_root import problem_of


@pytest.fixture(autouse=True)
def small(small_catalogue):
    return small_catalogue


def test_a_patch_merges_objects_and_replaces_lists(curator):
    points = [[0.0, 13.0], [90.0, 0.0]]
    answer = change(curator, FAN, curve={"points_m3h_pa": points, "rest_loss_pa_s2_m6": None}, life_h=None)
    curve = answer.json()["curve"]
    assert (curve["speed_rpm"], curve["points_m3h_pa"], curve["rest_loss_pa_s2_m6"]) == (1200, points, None)
    assert answer.json()["life_h"] == 50_000


def test_a_patch_takes_away_notes(curator):
    assert FigureNote.objects.on_parts([Fan.objects.get(code="fan-120").pk]).exists()
    answer = change(curator, FAN, sources={"sound_rpm_dba": None}, uncertainty=None)
    assert (answer.json()["sources"], answer.json()["uncertainty"]) == ({}, {})


def test_a_put_gives_what_is_left_out_its_default(curator):
    body = {key: value for key, value in new_fan(curator, code="fan-120").items() if key != "steps_rpm"}
    answer = curator.put(FAN, body | {"life_h": None}, headers=match(curator.get(FAN)))
    assert answer.json()["life_h"] == 50_000


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_a_change_names_the_version_that_it_changes(curator, method):
    stale, body = curator.get(FAN), None if method == "delete" else {"price": 3}
    (problem,) = problem_of(getattr(curator, method)(FAN, body), 428)["problems"]
    assert problem["field"] == "If-Match"
    change(curator, FAN, price=2)
    problem_of(getattr(curator, method)(FAN, body, headers=match(stale)), 412)
    assert Fan.objects.get(code="fan-120").price == 2


def test_a_change_inside_changes_the_version(curator):
    stale = curator.get(TOWER)
    Enclosure.objects.get().zones.filter(code="main").update(wall_w_k=1)
    problem_of(curator.patch(TOWER, {"price": 3}, headers=match(stale)), 412)


def test_the_answer_to_a_change_is_the_version_to_change_next(curator):
    first = change(curator, TOWER, price=3)
    assert curator.patch(TOWER, {"price": 4}, headers=match(first)).status_code == 200


@pytest.mark.parametrize(("key", "value"), [("owner", "you"), ("url", f"{FANS}other/"), ("contributor", "Me")])
@pytest.mark.parametrize("method", ["put", "patch"])
def test_what_only_the_service_writes_stays(curator, method, key, value):
    keys = new_fan(curator, code="fan-120") if method == "put" else {}
    (problem,) = problem_of(change(curator, FAN, method, **keys, **{key: value}), 422)["problems"]
    assert problem["field"] == key and "or leave it out" in problem["accepted"]


def test_a_code_never_changes(curator):
    (problem,) = problem_of(change(curator, FAN, code="fan-121"), 422)["problems"]
    assert (problem["field"], problem["accepted"]) == ("code", "'fan-120'")


@pytest.mark.parametrize(("address", "by"), [("sources/sheet/", "fan 'fan-120'"), ("makers/marl/", "fan 'fan-120'")])
def test_what_parts_rest_on_stays(curator, address, by):
    answer = curator.delete(BASE + address, headers=match(curator.get(BASE + address)))
    assert by in problem_of(answer, 409)["detail"]
    assert curator.get(BASE + address).status_code == 200


def test_own_parts_in_the_way_are_counted_not_named(member, curator):
    maker = curator.post(f"{BASE}makers/", {"code": "new", "name": "New"})
    member.post(FANS, new_fan(member, maker="New"))
    answer = curator.delete(maker["Location"], headers=match(maker))
    assert "needed by one own part." in problem_of(answer, 409)["detail"]


def test_a_maker_that_parts_name_keeps_its_name(curator):
    address = f"{BASE}makers/{Maker.objects.get(name='Marl').code}/"
    problem_of(change(curator, address, name="Marle"), 409)
    assert change(curator, address, note="A workshop.").status_code == 200


def test_what_is_built_in_stays(curator):
    for address in (f"{BASE}sources/own-estimate/", f"{BASE}makers/own/"):
        assert (
            "every catalogue" in problem_of(curator.delete(address, headers=match(curator.get(address))), 409)["detail"]
        )


def test_a_deleted_part_leaves_the_list(curator, guest):
    curator.delete(FAN, headers=match(curator.get(FAN)))
    assert codes(guest.get(FANS)) == ["fan-120-switch"]
