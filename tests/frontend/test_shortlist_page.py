"""What a study found: its list by ranks, what was ruled out, near misses, and nothing of it unescaped."""

import pytest

from frontend.templatetags.quantities import figure, fixed, money
from tests.frontend.answered import answered, hostile, listed, too_loud
from tests.frontend.pages import HOSTILE, Form, queries
from tests.frontend.test_pages import Page

pytestmark = pytest.mark.django_db


def address(study):
    return f"/studies/{study.pk}/"


@pytest.fixture
def page(guest):
    return Form(guest.get(address(answered(listed()))))


class TestList:
    @pytest.mark.parametrize("number", [0, 1, 2])
    def test_each_entry_has_its_figures(self, page, number):
        entry = listed()["shortlist"][number]
        for code in ("idle", "working"):
            assert f"{figure(entry['predictions'][code]['noise_dba'], 'dBA')} {code}" in page.text
        assert money(entry["price"], "EUR") in page.text
        assert fixed(entry["headroom_k"], "K") in page.text
        width, height, depth = (round(1000 * one) for one in entry["size_m"])
        assert f"{width} × {height} × {depth}" in page.text

    def test_each_entry_leads_to_its_build(self, guest):
        study = answered(listed())
        links = Form(guest.get(address(study))).links
        for entry in listed()["shortlist"]:
            assert f"/studies/{study.pk}/builds/{entry['id']}/" in links

    def test_ties_are_told_in_words_with_their_reason(self, page):
        first, second, third = (entry["enclosure"] for entry in listed()["shortlist"])
        assert f"Not told apart from {second} and {third}." in page.text
        assert f"tell any of the others from {first}: the 95 % interval" in page.text

    def test_what_sets_each_apart_is_its_last_reason(self, page):
        for entry in listed()["shortlist"]:
            assert "Against " in entry["reasons"][-1]
        assert page.text.count("loses most by") == sum("loses most" in e["reasons"][-1] for e in listed()["shortlist"])

    def test_note_of_a_tie_stands_on_top(self, page):
        (note,) = listed()["notes"]
        assert "The measurements cannot tell these 3 builds apart" in note
        assert page.text.index("cannot tell these 3 builds apart") < page.text.index("The ends of the list")

    def test_ends_of_the_list_are_its_least(self, page):
        entries = listed()["shortlist"]
        cheapest = min(entries, key=lambda one: one["price"])
        said = page.text.partition("Cheapest")[2][:80]
        assert cheapest["enclosure"] in said and money(cheapest["price"], "EUR") in said

    def test_counts_are_those_of_the_record(self, page):
        assert listed()["counts"]["rejected"] == {"graphics_limit": 1}
        assert "18 builds in 3 enclosures were considered: 16 builds were found to keep every limit" in page.text
        assert "Graphics board too hot" in page.text
        assert "A further 1 build was not worked out to the end" in page.text

    def test_brief_and_json_are_a_link_away(self, guest):
        study = answered(listed())
        links = Form(guest.get(address(study))).links
        assert f"/brief/?from={study.pk}" in links and f"/api/v1/studies/{study.pk}/" in links


class TestNothingFound:
    def test_misses_come_with_what_would_let_them_in(self, guest):
        study = answered(too_loud())
        page = Form(guest.get(address(study)))
        assert "No build of 3 enclosures keeps every limit" in page.text
        for miss in too_loud()["nearest_misses"]:
            assert f"/studies/{study.pk}/builds/{miss['id']}/" in page.links
        assert page.text.count("raise “Noise at the seat” from 20 to ") == 3

    def test_codes_do_not_show(self, guest):
        text = Form(guest.get(address(answered(too_loud())))).text
        assert "noise_target_dba" not in text and "hot_day" not in text

    def test_only_the_first_five_misses_are_unfolded(self, guest):
        record = too_loud() | {"nearest_misses": list(too_loud()["nearest_misses"]) * 3}
        page = guest.get(address(answered(record))).content.decode()
        assert "4 more enclosures" in page and page.count("<details>") == 1


class TestSafety:
    def test_names_cannot_break_out(self, guest):
        response = guest.get(address(answered(hostile(listed(), HOSTILE), title=HOSTILE[:100])))
        body = response.content.decode()
        assert "<script>alert" not in body and "<b style" not in body and "&lt;script&gt;alert" in body
        page = Page(body)
        assert page.open == ["html", "body"] or page.open == []
        assert len(page.ids) == len(set(page.ids))

    def test_anothers_list_answers_as_none(self, guest, member, other):
        study = answered(listed(), owner=member.user)
        assert member.get(address(study)).status_code == 200
        assert [client.get(address(study)).status_code for client in (guest, other)] == [404, 404]

    def test_queries_do_not_grow_with_the_list(self, guest):
        few, many = answered(too_loud()), answered(listed())
        assert queries(guest, address(few)) == queries(guest, address(many)) <= 2
