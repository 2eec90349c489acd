"""One build: what to buy, speeds, temperatures, air, noise, bays, power, storage, and what is kept of others."""

import re

import pytest

from advisor.engine.inputs import SCENARIOS
from frontend.contexts import build_scenario
from frontend.contexts.build_parts import differences
from frontend.pictures.air import figures
from frontend.templatetags.quantities import figure, money, quantity
from tests.frontend.answered import answered, hostile, listed, too_loud
from tests.frontend.making import box, build
from tests.frontend.pages import HOSTILE, Form, queries
from tests.frontend.test_pages import Page

pytestmark = pytest.mark.django_db


def address(study, build, **asked):
    query = "".join(f"?{name}={value}" for name, value in asked.items())
    return f"/studies/{study.pk}/builds/{build['id']}/{query}"


def first():
    return listed()["shortlist"][0]


@pytest.fixture
def text(guest):
    return Form(guest.get(address(answered(listed()), first()))).text


class TestEntry:
    def test_shopping_list_adds_up(self, text):
        bought = [line for line in first()["parts"] if line["price"] is not None]
        assert sum(line["quantity"] * line["price"] for line in bought) == pytest.approx(first()["price"])
        assert text.partition("All of it")[2].strip().startswith(money(first()["price"], "EUR"))

    def test_every_speed_is_listed(self, text):
        for code in SCENARIOS:
            for speeds in first()["settings"][code].values():
                for rpm in speeds["fans"].values():
                    assert quantity(rpm, "rpm") in text

    def test_every_temperature_is_there_with_its_uncertainty(self, text):
        for code in SCENARIOS:
            for part in first()["predictions"][code]["temperatures"]:
                assert figure(part["temperature_c"], "°C") in text

    def test_each_drive_has_its_bay_and_its_temperature(self, guest):
        page = guest.get(address(answered(listed()), first())).content.decode()
        assert page.count('class="bay full"') == len(first()["bays"])
        assert page.count(f"<strong>{figure(first()['bays'][0]['temperature_c'], '°C')}</strong>") >= 1

    def test_power_energy_and_ups_are_told(self, text):
        power = first()["power"]
        assert f"{quantity(round(power['yearly_kwh']), 'kWh')} for {money(power['yearly_cost'], 'EUR')}" in text
        assert power["ups"]["name"] in text and "Starting its drives" in text

    def test_storage_comes_with_its_assumptions(self, text):
        assert all(one in text for one in first()["storage"]["assumptions"])

    def test_cautions_name_mains_lifting_heat_and_fans(self, text):
        said = text.partition("Before you build and run it")[2]
        for word in ("Mains power", "Lifting", "Hot parts", "Spinning fans", "local codes", "licensed"):
            assert word in said

    def test_alternatives_are_compared_by_what_differs(self, guest):
        study = answered(listed())
        page = Form(guest.get(address(study, first())))
        for one in first()["alternatives"]:
            assert address(study, one) in page.links
            assert next(differences(one, first()))


class TestScenario:
    def test_the_one_that_limits_comes_first(self, guest):
        least = {code: min(p["headroom_k"] for p in first()["predictions"][code]["temperatures"]) for code in SCENARIOS}
        page = guest.get(address(answered(listed()), first())).content.decode()
        assert f'id="scenario-{min(least, key=least.get)}"' in re.search(r"<a [^>]*aria-current=.true.[^>]*>", page)[0]

    @pytest.mark.parametrize("code", SCENARIOS)
    def test_each_has_a_picture_and_its_figures(self, guest, code):
        page = guest.get(address(answered(listed()), first(), scenario=code)).content.decode()
        assert page.count("<svg") > 4 and f'id="air-{code}' in page
        assert figure(first()["predictions"][code]["noise_dba"], "dBA") in page

    def test_switches_are_plain_links_that_a_script_makes_quicker(self, guest):
        page = Page(guest.get(address(answered(listed()), first())).content.decode())
        switches = [one for one in page.all("a") if one.get("id", "").startswith("scenario-")]
        assert len(switches) == 5
        assert all(one["href"] == one["hx-get"] and one["hx-select"] == "#scenario" for one in switches)

    def test_unknown_one_is_as_none(self, guest):
        study = answered(listed())
        plain = guest.get(address(study, first())).content
        assert guest.get(address(study, first(), scenario="<script>")).content == plain

    def test_wrong_ways_are_told_in_words(self):
        found = figures.of_build(build(), "working", box())
        (said,) = build_scenario.wrong_ways(found)
        assert said.startswith("Power supply (no. ") and "blows the wrong way" in said
        assert "go from the room to main." in said and "14.4 ± 1.4" in said  # 4 l/s


class TestOthers:
    def test_alternative_says_what_is_not_kept_of_it(self, guest):
        study, one = answered(listed()), first()["alternatives"][0]
        page = Form(guest.get(address(study, one)))
        assert "not the flow of each opening or the way of each sound" in page.text
        assert address(study, first()) in page.links and "Air of each zone" in page.text

    def test_near_miss_says_what_would_let_it_in(self, guest):
        miss = too_loud()["nearest_misses"][0]
        text = Form(guest.get(address(answered(too_loud()), miss))).text
        assert "Ruled out: too loud" in text and "raise “Noise at the seat” from 20 to" in text

    @pytest.mark.parametrize("identity", ["nothing", "a~b~c", "%00", HOSTILE.replace("/", "")])
    def test_no_such_build_is_not_found(self, guest, identity):
        assert guest.get(address(answered(listed()), {"id": identity})).status_code == 404

    def test_study_on_its_way_has_no_builds(self, guest):
        study = answered(listed())
        type(study).objects.update(cancelled_at=study.created_at)
        answer = guest.get(address(study, first()))
        assert (answer.status_code, answer.url) == (302, f"/studies/{study.pk}/")

    def test_anothers_answers_as_none(self, guest, member, other):
        study = answered(listed(), owner=member.user)
        assert member.get(address(study, first())).status_code == 200
        assert [client.get(address(study, first())).status_code for client in (guest, other)] == [404, 404]


def test_names_cannot_break_out(guest):
    record = hostile(listed(), HOSTILE)
    for one in (record["shortlist"][0], record["shortlist"][0]["alternatives"][0]):
        body = guest.get(address(answered(record, title=HOSTILE[:100]), one)).content.decode()
        assert "<script>alert" not in body and "<b style" not in body and "&lt;script&gt;alert" in body
        page = Page(body)
        assert len(page.ids) == len(set(page.ids))
        assert not [tag for tag, given in page.tags if "style" in given or any(name[:2] == "on" for name in given)]


def test_page_is_light_and_asks_little(guest):
    study = answered(listed())
    assert queries(guest, address(study, first())) == queries(guest, address(study, first()["alternatives"][0])) <= 2
    assert len(guest.get(address(study, first())).content) < 400_000
