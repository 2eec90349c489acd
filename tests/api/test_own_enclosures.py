"""Own enclosures entered by tape measure and photograph."""

import json

import jsonschema
import pytest

from advisor.assembly import catalogue
from api.examples.tape import ENTRIES
from api.schema.document import document
from catalog.models import Enclosure
from tests.api.test_root import problem_of

OWN, PREVIEW = "/api/v1/own-enclosures/", "/api/v1/own-enclosures/preview/"
LEAST = ENTRIES["least"]


def fits(body, name):
    """Whether a body has the shape of the description."""
    components = {"components": document()["components"]}
    schema = {"$ref": f"#/components/schemas/{name}", **components}
    return list(jsonschema.Draft202012Validator(schema).iter_errors(body)) == []


@pytest.mark.parametrize("entry", ENTRIES.values(), ids=ENTRIES)
def test_it_stores_an_own_enclosure_and_shows_what_was_derived(member, entry):
    answer = member.post(OWN, entry)
    assert answer.status_code == 201, answer.content
    body = answer.json()
    assert answer["Location"] == body["enclosure"]["url"] and "/enclosures/own-" in answer["Location"]
    assert body["enclosure"]["owner"] == "you" and len(body["derived"]) > 40
    assert member.get(answer["Location"]).json() == body["enclosure"]
    assert fits(body, "OwnEnclosure")


def test_derived_figures_are_those_of_the_enclosure(member):
    body = member.post(OWN, LEAST).json()
    told = {line["figure"]: line for line in body["derived"]}
    for opening in body["enclosure"]["openings"]:
        line = told[f"openings.{opening['code']}.area_cm2"]
        assert line["value"] == opening["area_cm2"] and line["unit"] == "cm2" and line["inputs"]
    figures = member.get(f"{body['enclosure']['url']}figures/").json()["figures"]
    preheat = next(one for one in figures if one["name"] == "seats.processor.preheat")
    assert preheat["standard_uncertainty"] == pytest.approx(0.3 * preheat["value"]) and preheat["stated"]
    size = next(one for one in figures if one["name"] == "size_mm")
    assert (size["source"], preheat["source"]) == ("own-measure", "own-estimate")


def test_its_version_is_that_of_the_enclosure(member):
    answer = member.post(OWN, LEAST)
    assert answer["ETag"] == member.get(answer["Location"])["ETag"]


def test_preview_shows_the_same_and_stores_nothing(member):
    before = Enclosure.objects.count()
    shown = member.post(PREVIEW, LEAST)
    assert shown.status_code == 200 and Enclosure.objects.count() == before
    assert fits(shown.json(), "OwnEnclosurePreview")
    assert shown.json()["derived"] == member.post(OWN, LEAST).json()["derived"]


def test_what_preview_shows_can_be_added_as_an_enclosure(member):
    block = member.post(PREVIEW, LEAST).json()["enclosure"]
    assert member.post("/api/v1/enclosures/", block).status_code == 201


@pytest.mark.parametrize("address", [OWN, PREVIEW])
@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"width_mm": None}, "width_mm"),
        ({"width_mm": "x"}, "width_mm"),
        ({"panels": {"front": {"holes_share": 2}}}, "panels.front.holes_share"),
        ({"fans": [{"face": "front", "size_mm": 900}]}, "fans[0].size_mm"),
        ({"bays": [{"count": 4, "place": "own_chamber"}]}, "bays[0].place"),
        ({"nonsense": 1}, "nonsense"),
    ],
    ids=json.dumps,
)
def test_it_refuses_what_cannot_be(member, address, change, field):
    problems = problem_of(member.post(address, {**LEAST, **change}), 422)["problems"]
    assert [one["field"] for one in problems] == [field]
    assert all(one["accepted"] and one["message"] for one in problems)


def test_code_that_is_taken_is_refused(member):
    assert member.post(OWN, LEAST).status_code == 201
    problems = problem_of(member.post(OWN, LEAST), 422)["problems"]
    assert [one["field"] for one in problems] == ["code"]


def test_two_people_may_use_the_same_word(member, other):
    assert [one.post(OWN, LEAST).status_code for one in (member, other)] == [201, 201]


def test_it_lists_ones_own_only(member, other):
    member.post(OWN, LEAST)
    other.post(OWN, ENTRIES["two_chambers"])
    names = [[row["name"] for row in one.get(OWN).json()["results"]] for one in (member, other)]
    assert names == [["Workshop tower"], ["Cube with two chambers"]]
    assert "openings" not in member.get(OWN).json()["results"][0]


def test_anothers_looks_like_none(member, other):
    address = member.post(OWN, LEAST)["Location"]
    theirs, none = other.get(address), other.get(address.replace("workshop", "no-such"))
    assert theirs.status_code == none.status_code == 404


@pytest.mark.parametrize("method", ["get", "post"])
def test_guests_have_none(guest, db, method):
    problem_of(getattr(guest, method)(OWN, LEAST), 401)


def test_guests_preview_nothing(guest, db):
    problem_of(guest.post(PREVIEW, LEAST), 401)


def test_nobody_has_more_than_the_most(member, settings):
    settings.OWN_PARTS = 1
    assert member.post(OWN, LEAST).status_code == 201
    assert "Delete one first" in problem_of(member.post(OWN, {**LEAST, "code": "more"}), 409)["detail"]


def test_list_takes_as_many_queries_for_ten_as_for_one(member, django_assert_num_queries):
    member.post(OWN, LEAST)
    with django_assert_num_queries(5):
        member.get(OWN)
    for number in range(9):
        member.post(OWN, {**LEAST, "code": f"number-{number}"})
    with django_assert_num_queries(5):
        assert len(member.get(OWN).json()["results"]) == 10


def test_studies_of_its_owner_may_choose_it(member, small_catalogue):
    code = member.post(OWN, LEAST).json()["enclosure"]["code"]
    assert code in {box.code for box in catalogue(member.user).enclosures}
    assert code not in {box.code for box in catalogue().enclosures}
