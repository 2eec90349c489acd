"""The brief on its page: what is in sight, what is folded, what is wrong with it, and that nothing typed is lost."""

import re

import pytest
from django.test import Client
from django.urls import reverse

from advisor.brief import FIELDS, read_brief
from advisor.models import Study
from catalog.models import Enclosure
from frontend.forms.brief import BriefForm
from frontend.forms.subjects import FIRST, SUBJECTS, THEN
from frontend.forms.typed import WEIGHT, given_of
from frontend.starting_points import POINTS
from tests.advisor.access.things import own_part
from tests.frontend.pages import BRIEF, HOSTILE, KEY, Form, queries, typed

ADDRESS = "/brief/"
PAIR = ("drive_count", "usable_capacity_tb")

pytestmark = pytest.mark.usefixtures("small_catalogue")


def given(study):
    return Study.objects.get(pk=study).brief_given


def study_at(response):
    assert response.status_code == 302, response.content.decode()
    return response.url.split("/")[2]


def test_every_field_of_a_brief_is_asked_once():
    asked = [*FIRST, *PAIR, *THEN, *(name for subject in SUBJECTS for name in subject.names)]
    named = ["weights" if name.startswith(WEIGHT) else name for name in asked]
    assert sorted(set(named)) == sorted(field.name for field in FIELDS)
    assert len(asked) == len(set(asked))


def test_six_things_are_in_sight_and_the_rest_is_folded(guest):
    page = guest.get(ADDRESS).content.decode()
    in_sight = re.sub("<details.*?</details>", "", page, flags=re.DOTALL)
    assert {name for name in re.findall('name="([a-z_]+)"', in_sight) if name not in ("key", "viewport")} == {
        "csrfmiddlewaretoken", "description", *FIRST, *PAIR, *THEN
    }  # fmt: skip


def test_fold_says_what_is_in_force(guest):
    text = guest.get(ADDRESS).content.decode()
    assert "30\u202f°C on a hot day · at sea level" in text and "drives 45\u202f°C" in text
    filled = guest.get(f"{ADDRESS}?start=warm_cupboard_server").content.decode()
    assert "34\u202f°C on a hot day · at sea level · upright in a ventilated cupboard" in filled


def test_ranges_and_help_come_from_the_table_of_fields(guest):
    text = Form(guest.get(ADDRESS)).text
    for field in FIELDS:
        assert field.kind == "weights" or field.label in text
    assert "\u221210 to 50\u202f°C" in text and "1–1\u202f000\u202fW" in text


def test_it_makes_a_study_of_what_was_typed(guest):
    study = study_at(guest.post(ADDRESS, typed(drive_count=" 2 ", energy_price="0,25", title="Shelf", layout="mirror")))
    assert given(study) == BRIEF | {"drive_count": 2, "energy_price": 0.25, "title": "Shelf", "layout": "mirror"}


def test_untouched_form_sends_what_the_interface_would_get(guest):
    assert given(study_at(guest.post(ADDRESS, typed()))) == BRIEF


@pytest.mark.parametrize("point", POINTS, ids=lambda point: point.name)
def test_starting_point_goes_through_the_form_unchanged(guest, point):
    page = Form(guest.get(f"{ADDRESS}?start={point.name}"))
    form = BriefForm(_query(page.sent()))
    form.full_clean()
    assert read_brief(form.given).brief == read_brief(point.given).brief and read_brief(form.given).brief is not None


def _query(values):
    from django.http import QueryDict

    data = QueryDict(mutable=True)
    for name, listed in values.items():
        data.setlist(name, listed)
    return data


def test_starting_point_that_does_not_exist_is_not_found(guest):
    assert guest.get(f"{ADDRESS}?start=nothing").status_code == 404


def test_starting_point_is_sent_at_once(guest):
    answer = guest.post(ADDRESS, {"at_once": "1", "start": "small_two_drive_machine", "key": KEY})
    assert given(study_at(answer))["title"] == "Two drives on the shelf"


class TestErrors:
    WRONG = {"processor_watts": "warm", "board_form": "", "noise_target_dba": "", "limit_drive_c": "1,400",
             "weight_noise": "-3", "seat_distance_m": "90"}  # fmt: skip

    @pytest.fixture
    def page(self, guest):
        response = guest.post(ADDRESS, typed(**self.WRONG))
        assert response.status_code == 200 and not Study.objects.exists()
        return Form(response)

    def test_summary_links_to_every_field(self, page):
        assert "6 things to put right" in page.text
        links = [link[1:] for link in page.links if link.startswith("#id_")]
        assert links == [f"id_{name}" for name in
                         ("processor_watts", "board_form", "noise_target_dba", "seat_distance_m", "limit_drive_c",
                          "weight_noise")]  # fmt: skip
        assert set(links) <= set(page.ids)

    def test_each_stands_beside_its_field(self, page):
        for name in self.WRONG:
            assert f"id_{name}_error" in page.described[name] and f"id_{name}_error" in page.ids

    def test_it_says_what_is_accepted_in_labels(self, page):
        assert "'warm' is not a number; accepted: a number from 1 to 1000 W." in page.text
        assert "Nothing is chosen; accepted: Mini-ITX" in page.text
        assert not re.search("processor_watts|noise_target_dba|limit_drive_c", page.text)

    def test_what_was_typed_stays(self, page):
        assert {name: page[name] for name in self.WRONG if name != "board_form"} == {
            name: text for name, text in self.WRONG.items() if name != "board_form"
        }

    def test_folds_with_errors_are_open(self, guest):
        text = guest.post(ADDRESS, typed(limit_drive_c="x")).content.decode()
        assert text.count("<details open>") == 1 and "1 to put right" in text

    def test_title_says_that_something_is_wrong(self, guest):
        assert "<title>Error: Brief" in guest.post(ADDRESS, typed(drive_count="x")).content.decode()

    def test_contradictions_name_labels(self, guest):
        page = Form(guest.post(ADDRESS, typed(drive_count="2", usable_capacity_tb="4")))
        assert "one of “Drives” and “Usable capacity”" in page.text

    def test_part_that_does_not_exist_is_refused(self, guest):
        page = Form(guest.post(ADDRESS, typed(excluded_parts=["no-such-part", ""])))
        assert "no-such-part" in page.text and page.entries["excluded_parts"][0] == "no-such-part"


TEXTS = [HOSTILE, "x" * 1000, "\0", "\ufffdx", "9" * 900, "1e999", "nan", "٣", "[]", "true"]
CHOICES = {field.name for field in FIELDS if field.kind in ("choice", "choices", "flag", "weights")}
NUMBERS = {field.name for field in FIELDS if field.kind in ("number", "integer")}
TYPED = sorted(set(typed()) - CHOICES - {"key", "required_parts", "excluded_parts"})


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_hostile_text_in_every_field_stays_text(guest, text):
    response = guest.post(ADDRESS, dict.fromkeys(typed(), text) | {"key": KEY})
    page, form = response.content.decode(), Form(response)
    assert response.status_code == 200 and not Study.objects.exists()
    assert "<script>alert" not in page and "<b style" not in page
    assert {f"#id_{name}" for name in NUMBERS} <= set(form.links)
    assert {name: form[name] for name in TYPED} == dict.fromkeys(TYPED, text)


def test_more_than_a_form_takes_is_refused_plainly(guest):
    response = guest.post(ADDRESS, typed(title="x" * 70_000))
    assert response.status_code == 413 and "longer than 64 kB" in response.content.decode()
    response = guest.post(ADDRESS, typed(title="x" * 1_100_000))
    assert response.status_code == 413 and "nothing was saved" in response.content.decode()


class TestOnce:
    def test_two_clicks_make_one_study(self, guest):
        assert study_at(guest.post(ADDRESS, typed())) == study_at(guest.post(ADDRESS, typed()))
        assert Study.objects.count() == 1

    def test_back_and_changed_makes_another(self, guest):
        first = study_at(guest.post(ADDRESS, typed()))
        assert study_at(guest.post(ADDRESS, typed(noise_target_dba="50"))) != first

    def test_each_page_has_its_own_key(self, guest):
        assert Form(guest.get(ADDRESS))["key"] != Form(guest.get(ADDRESS))["key"]

    def test_key_of_somebodys_making_is_none(self, guest):
        ids = {study_at(guest.post(ADDRESS, typed(key="\u202e<b>"))) for _ in range(2)}
        assert len(ids) == 2

    def test_error_keeps_the_key(self, guest):
        assert Form(guest.post(ADDRESS, typed(drive_count="x")))["key"] == KEY


class TestAllowance:
    def test_too_many_unfinished_lose_nothing(self, guest, settings):
        settings.UNFINISHED_STUDIES = {"guest": 1, "member": 1}
        guest.post(ADDRESS, typed())
        response = guest.post(ADDRESS, typed(title="Second", key="f" * 32))
        assert response.status_code == 429 and "1 unfinished" in response.content.decode()
        assert Form(response)["title"] == "Second" and Study.objects.count() == 1

    def test_too_many_an_hour_lose_nothing(self, guest, settings):
        settings.RATES = settings.RATES | {"study": {"guest": "1/hour", "member": "1/hour"}}
        guest.post(ADDRESS, typed())
        response = guest.post(ADDRESS, typed(title="Second", key="f" * 32))
        assert response.status_code == 429 and int(response["Retry-After"]) > 1
        assert Form(response)["title"] == "Second"

    def test_pages_and_interface_count_together(self, guest, settings):
        settings.RATES = settings.RATES | {"study": {"guest": "1/hour", "member": "1/hour"}}
        assert guest.post("/api/v1/studies/", BRIEF, content_type="application/json").status_code == 202
        assert guest.post(ADDRESS, typed()).status_code == 429

    def test_what_is_wrong_with_a_form_counts_nothing(self, guest, settings):
        settings.RATES = settings.RATES | {"study": {"guest": "1/hour", "member": "1/hour"}}
        guest.post(ADDRESS, typed(drive_count="x"))
        assert guest.post(ADDRESS, typed()).status_code == 302


def test_old_proof_loses_nothing_and_sends_nothing():
    client = Client(enforce_csrf_checks=True)
    response = client.post(ADDRESS, typed(title="Shelf"))
    page = Form(response)
    assert response.status_code == 403 and "grown old" in page.text and page["title"] == "Shelf"
    assert not Study.objects.exists()
    assert client.post(ADDRESS, page.sent() | {"csrfmiddlewaretoken": page["csrfmiddlewaretoken"]}).status_code == 302


class TestFrom:
    def test_it_begins_with_the_brief_of_a_study(self, guest):
        study = study_at(guest.post(ADDRESS, typed(title="Shelf", weight_price="5", noise_scenarios=["", "idle"])))
        page = Form(guest.get(f"{ADDRESS}?from={study}"))
        assert (page["title"], page["weight_price"], page.entries["noise_scenarios"]) == ("Shelf", "5", ["", "idle"])
        assert "Change this brief" in page.text and page["key"] != KEY

    def test_anothers_is_not_found(self, member, other, guest):
        study = study_at(member.post(ADDRESS, typed()))
        assert member.get(f"{ADDRESS}?from={study}").status_code == 200
        assert {client.get(f"{ADDRESS}?from={study}").status_code for client in (other, guest)} == {404}

    @pytest.mark.parametrize("word", ["", "nothing", "00000000-0000-0000-0000-000000000000", HOSTILE])
    def test_what_is_no_study_is_not_found(self, guest, word):
        assert guest.get(ADDRESS, {"from": word}).status_code == 404


def test_weights_left_empty_keep_their_defaults():
    assert given_of({"weight_noise": "", "weight_price": "2.0", "weight_bays": "4"}) == {"weights": {"bays": 4}}


def test_parts_to_pick_from_are_those_one_may_choose(member, guest, small_catalogue):
    assert '<datalist id="parts"><option value="' in guest.get(ADDRESS).content.decode()
    before = queries(guest, ADDRESS), queries(member, ADDRESS)
    for number in range(3):
        own_part(Enclosure, member.user, f"mine-{number}")
    own = re.findall('value="(own-[^"]*)"', member.get(ADDRESS).content.decode())
    assert len(own) == 3 and "own-" not in guest.get(ADDRESS).content.decode()
    assert (queries(guest, ADDRESS), queries(member, ADDRESS)) == before


def test_address_is_the_one_of_its_name():
    assert reverse("pages:brief") == ADDRESS


def test_line_of_a_fold_turns_nothing_around(guest):
    page = guest.post(
        ADDRESS, typed(required_parts="\u202eevil", title="\u2067title", processor_watts="x")
    ).content.decode()
    lines = "".join(re.findall("<summary>.*?</summary>", page))
    assert "must have evil" in lines and not {"\u202e", "\u2067"} & set(lines)
