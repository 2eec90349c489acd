"""The first page: four ways to an answer, and what it says where there is nothing to choose from."""

import pytest

from advisor.models import Study
from frontend.starting_points import POINTS
from tests.frontend.pages import Form, queries


@pytest.mark.usefixtures("small_catalogue")
class TestHome:
    def test_each_starting_point_can_be_sent_or_opened(self, guest):
        page = Form(guest.get("/"))
        assert page.entries["start"] == [point.name for point in POINTS]
        assert {f"/brief/?start={point.name}" for point in POINTS} <= set(page.links)

    def test_its_form_sends_a_study_once(self, guest):
        page = Form(guest.get("/"))
        sent = {"at_once": page["at_once"], "start": page["start"], "key": page["key"]}
        first, again = (guest.post("/brief/", sent) for _ in range(2))
        assert first.status_code == again.status_code and first.status_code in (302, 200)
        assert Study.objects.count() <= 1

    def test_queries_are_few(self, guest, member):
        assert (queries(guest, "/"), queries(member, "/")) == (1, 3)


def test_empty_catalogue_leads_to_an_own_enclosure(guest):
    page = Form(guest.get("/"))
    assert "There is no enclosure to choose from yet" in page.text and "start" not in page.entries


def test_facts_are_those_of_the_brief():
    assert POINTS[0].facts == [
        "processor 125\u202fW, graphics 220\u202fW",
        "2 drives, mirror",
        "34\u202fdBA at the seat",
        "room 22\u202f°C",
    ]


def test_method_page_has_every_scenario(guest):
    text = Form(guest.get("/method/")).text
    assert all(word in text for word in ("Idle", "Working", "Full load", "Hot day", "Rebuild", "Redundancy is no"))
