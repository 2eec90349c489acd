"""An own part on its way into the catalogue."""

import pytest

from catalog.models import Fan
from tests.api.parts import BASE, FAN, FANS, READ_ONLY, change, codes, match
from tests.api.test_root import problem_of


@pytest.fixture
def own(small_catalogue, member):
    """The address of a member's own fan."""
    body = {key: value for key, value in member.get(FAN).json().items() if key not in READ_ONLY}
    return member.post(FANS, body | {"code": "shelf"})["Location"].removeprefix("http://testserver")


@pytest.fixture
def offered(own, member):
    member.post(f"{own}offer/", {"contributor": "Mara Field"})
    return own


def test_an_offer_is_for_curators_to_see(own, member, other, curator):
    answer = member.post(f"{own}offer/", {})
    assert answer.json()["offered"] and answer.json()["contributor"] == "mara"
    assert curator.get(own).json()["owner"] == "somebody"
    assert len(codes(curator.get(f"{FANS}?owner=offered"))) == 1
    problem_of(other.get(own), 404)


def test_an_offer_is_taken_back(offered, member, curator):
    assert member.delete(f"{offered}offer/").json()["offered"] is None
    problem_of(curator.get(offered), 404)
    assert problem_of(member.delete(f"{offered}offer/"), 422)["problems"][0]["field"] == "offered"


def test_curators_do_not_change_what_is_on_offer(offered, curator):
    problem_of(change(curator, offered, price=1), 403)
    problem_of(curator.post(f"{offered}offer/"), 403)


def test_an_accepted_part_is_the_catalogue_s(offered, member, curator, guest):
    answer = curator.post(f"{offered}accept/", {"code": "marl-again"}, headers=match(curator.get(offered)))
    assert answer.status_code == 200
    assert answer.json().items() >= {"code": "marl-again", "owner": "catalogue", "contributor": "Mara Field"}.items()
    assert guest.get(f"{FANS}marl-again/").json() == answer.json()
    problem_of(member.get(offered), 404)
    problem_of(change(member, f"{FANS}marl-again/", price=1), 403)


def test_what_is_accepted_is_what_was_seen(offered, member, curator):
    seen = curator.get(offered)
    change(member, offered, price=1)
    problem_of(curator.post(f"{offered}accept/", {"code": "marl-again"}, headers=match(seen)), 412)
    problem_of(curator.post(f"{offered}accept/", {"code": "marl-again"}), 428)
    assert not Fan.objects.coded("marl-again").exists()


@pytest.mark.parametrize("code", ["fan-120", "drive-8", "own-k3v7q2xa-x", "two words", ""])
def test_a_code_that_cannot_be_public_is_refused(offered, curator, code):
    answer = curator.post(f"{offered}accept/", {"code": code}, headers=match(curator.get(offered)))
    assert {problem["field"] for problem in problem_of(answer, 422)["problems"]} == {"code"}


def test_a_declined_part_comes_back_with_a_note(offered, member, curator):
    answer = curator.post(f"{offered}decline/", {"note": "At what density?"}, headers=match(curator.get(offered)))
    assert answer.status_code == 204
    assert member.get(offered).json().items() >= {"offered": None, "decline_note": "At what density?"}.items()
    problem_of(curator.get(offered), 404)


@pytest.mark.parametrize("note", ["", " ", "a\u202eb", "x" * 501, None, 3])
def test_a_note_that_says_nothing_is_refused(offered, curator, note):
    answer = curator.post(f"{offered}decline/", {"note": note}, headers=match(curator.get(offered)))
    assert problem_of(answer, 422)["problems"][0]["field"] == "note"


@pytest.mark.parametrize("step", ["accept", "decline"])
def test_only_curators_decide(offered, member, other, guest, step):
    problem_of(member.post(f"{offered}{step}/", {}), 403)
    problem_of(other.post(f"{offered}{step}/", {}), 403)
    problem_of(guest.post(f"{offered}{step}/", {}), 401)


@pytest.mark.parametrize("step", ["accept", "decline"])
def test_what_is_not_on_offer_cannot_be_decided(own, curator, step):
    body = {"accept": {"code": "marl-again"}, "decline": {"note": "No."}}[step]
    for address in (own, FAN, f"{FANS}nothing/"):
        problem_of(curator.post(f"{address}{step}/", body, headers={"if-match": "*"}), 404)


def test_another_s_part_cannot_be_offered(own, other, curator):
    for client in (other, curator):
        problem_of(client.post(f"{own}offer/"), 404)
        problem_of(client.delete(f"{own}offer/"), 404)


def test_the_public_catalogue_is_not_on_offer(small_catalogue, member):
    problem_of(member.post(f"{FAN}offer/"), 403)


@pytest.mark.parametrize("name", ["x" * 151, "a\u202eb", 3, None, " a"])
def test_a_contributor_s_name_that_cannot_be_shown_is_refused(own, member, name):
    assert problem_of(member.post(f"{own}offer/", {"contributor": name}), 422)["problems"][0]["field"] == "contributor"


def test_an_own_air_path_is_named_anew_before_it_is_public(small_catalogue, member, curator):
    first = member.get(f"{BASE}power-supplies/").json()["results"][0]
    body = {key: value for key, value in first.items() if key not in READ_ONLY} | {"air_path": "own-path"}
    own = member.post(f"{BASE}power-supplies/", body)["Location"]
    member.post(f"{own}offer/")
    answer = curator.post(f"{own}accept/", {"code": "again"}, headers=match(curator.get(own)))
    assert problem_of(answer, 422)["problems"][0]["field"] == "air_path"
