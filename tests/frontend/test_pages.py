"""The frame of every page and its partials: landmarks, labels tied to fields, errors that link, and nothing inline."""

import re
from contextlib import closing
from html.parser import HTMLParser
from urllib.parse import urljoin

import pytest
from django import forms
from django.contrib.auth.models import AnonymousUser
from django.template import engines
from django.template.loader import render_to_string
from django.test import RequestFactory

from frontend.contexts.tables import Cell, Column, Table
from frontend.pictures import air, curve, intervals, noise, trade
from tests.engine import builds
from tests.frontend.making import box, build, study

HOSTILE = "</text></svg><script>alert(1)</script>\" onload='x' \u202e{{ x }} & <b style=color:red>"


class Page(HTMLParser):
    """Tags with their attributes, in order, and what is open at the end."""

    VOID = {"meta", "link", "br", "input", "hr", "img", "path", "rect", "circle", "line", "polygon"}

    def __init__(self, text):
        super().__init__()
        self.tags, self.open = [], []
        self.feed(text)

    def handle_starttag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attributes):
        self.tags.append((tag, dict(attributes)))

    def handle_endtag(self, tag):
        if tag not in self.VOID:
            assert self.open.pop() == tag

    def all(self, tag):
        return [attributes for one, attributes in self.tags if one == tag]

    @property
    def ids(self):
        return [attributes["id"] for _, attributes in self.tags if "id" in attributes]


class BriefForm(forms.Form):
    heat = forms.FloatField(label="Heat <b>", help_text="What it draws.", min_value=5)
    board = forms.ChoiceField(label="Board", choices=[("a", "micro")], widget=forms.RadioSelect, help_text="Outline.")
    title = forms.CharField(label="Title", required=False)


def whole_page(body="<h1>Head</h1>", **context):
    request = RequestFactory().get("/catalogue/")
    request.user = AnonymousUser()
    source = '{% extends "frontend/base.html" %}{% block title %}Head{% endblock %}{% block main %}' + body
    return engines["django"].from_string(source + "{% endblock %}").render(context, request)


def pictures(name):
    """Every picture and table of a build whose parts are called so."""
    made, record = build(name), study([30.0, 31.0], [5.0, 4.0], [1, 1])
    for entry in record["shortlist"]:
        entry["parts"][0]["name"] = name
    picture = air.of_build(made, "working", box(name))
    fan = curve.of_fan(builds.fan(0.12, name=name))
    heard = noise.of_build(made, "working")
    traded = trade.of_shortlist(record)
    return {
        "air": render_to_string("frontend/pictures/_air.html", {"air": picture}),
        "air tables": render_to_string("frontend/pictures/_air_tables.html", {"air": picture}),
        "openings": render_to_string("frontend/pictures/_air.html", {"air": air.of_housing(box(name))}),
        "opening tables": render_to_string("frontend/pictures/_air_tables.html", {"air": air.of_housing(box(name))}),
        "temperatures": render_to_string(
            "frontend/_intervals.html", {"intervals": intervals.temperatures(made, "working")}
        ),
        "levels": render_to_string(
            "frontend/_intervals.html", {"intervals": intervals.noise_of_entries(record["shortlist"], 33.0, "idle")}
        ),
        "noise": render_to_string("frontend/pictures/_noise.html", {"noise": heard}),
        "curve": render_to_string("frontend/pictures/_chart.html", {"chart": fan.pressure}),
        "sound": render_to_string("frontend/pictures/_chart.html", {"chart": fan.noise}),
        "points": render_to_string("frontend/pictures/_chart_table.html", {"chart": fan.pressure}),
        "trade": render_to_string("frontend/pictures/_trade.html", {"trade": traded}),
        "trade table": render_to_string("frontend/pictures/_trade_table.html", {"trade": traded}),
    }


@pytest.fixture(scope="module")
def hostile():
    return pictures(HOSTILE)


@pytest.fixture(scope="module")
def plain():
    return pictures("Box")


def test_nothing_is_inline(plain):
    for text in (*plain.values(), whole_page("".join(plain.values()))):
        page = Page(text)
        assert not [attributes for _, attributes in page.tags if "style" in attributes]
        assert not [name for _, attributes in page.tags for name in attributes if name.startswith("on")]
        assert not page.all("style") and all("src" in one for one in page.all("script"))


def test_hostile_names_stay_text(hostile, plain):
    for name, text in hostile.items():
        assert "<script" not in text and "<b style" not in text
        assert {tag for tag, _ in Page(text).tags} == {tag for tag, _ in Page(plain[name]).tags}
    assert "&lt;script&gt;alert(1)" in hostile["air"]


def test_hostile_names_break_no_tag(hostile):
    assert all(Page(text).open == [] for text in hostile.values())


def test_all_pictures_go_on_one_page_without_an_id_twice(plain):
    ids = Page(whole_page("".join(plain.values()))).ids
    repeated = {one for one in ids if ids.count(one) > 1}
    assert not repeated


def test_every_picture_has_a_title_or_is_left_out_by_screen_readers(plain):
    for text in plain.values():
        page = Page(text)
        for svg in page.all("svg"):
            labelled = svg.get("aria-labelledby", "").split()
            named = svg.get("role") == "img" and (svg.get("aria-label") or labelled)
            nested = "viewbox" not in svg and "class" not in svg and "aria-hidden" not in svg
            assert named or svg.get("aria-hidden") == "true" or nested
            assert set(labelled) <= set(page.ids)


def test_pictures_stay_small(plain):
    assert len(plain["air"]) < 16_000


def test_every_table_is_captioned_and_scrolls_by_itself(plain):
    for text in plain.values():
        assert text.count("<table") == text.count("<caption>") == text.count('class="scroll"')
        assert text.count('class="scroll"') == text.count('tabindex="0"')


def test_frame_has_its_landmarks():
    page = Page(whole_page())
    assert page.open == []
    assert [len(page.all(tag)) for tag in ("header", "nav", "main", "footer", "h1")] == [1] * 5
    skip = next(one for one in page.all("a") if one.get("class") == "skip")
    assert skip["href"] == "#main" and "main" in page.ids
    assert page.all("html")[0]["lang"] == "en"


def test_frame_forbids_what_the_policy_forbids():
    config = next(one for one in Page(whole_page()).all("meta") if one.get("name") == "htmx-config")
    assert '"allowEval": false' in config["content"] and '"includeIndicatorStyles": false' in config["content"]


def test_frame_names_its_dangers_and_its_demo_data():
    text = whole_page()
    assert "pull the mains plug" in text and "All demo parts, makers and figures are invented." in text


def test_frame_loads_only_its_own_files(db, client):
    page = Page(whole_page())
    files = [one["src"] for one in page.all("script")] + [one["href"] for one in page.all("link")]
    assert len(files) == 3
    for file in files:
        with closing(client.get(urljoin("/", file))) as answer:
            assert answer.status_code == 200


def test_a_page_can_be_rendered_without_a_request():
    assert "Skip to the content" in render_to_string("frontend/base.html", {})


def test_errors_are_listed_first_and_lead_to_their_fields():
    form = BriefForm({"heat": "<i>hot</i>", "title": HOSTILE})
    text = render_to_string("frontend/_error_summary.html", {"form": form})
    page = Page(text)
    assert page.all("div")[0]["role"] == "alert" and "autofocus" in page.all("div")[0]
    assert [one["href"] for one in page.all("a")] == ["#id_heat", "#id_board"]
    assert "2 things to put right" in text and "Heat &lt;b&gt;" in text


def test_no_errors_no_summary():
    assert render_to_string("frontend/_error_summary.html", {"form": BriefForm()}).strip() == ""


def fields(form):
    return "".join(render_to_string("frontend/_field.html", {"field": field, "unit": "W"}) for field in form)


def test_fields_are_tied_to_their_label_hint_and_error():
    page = Page(fields(BriefForm({"heat": "hot", "title": HOSTILE})))
    heat = next(one for one in page.all("input") if one["name"] == "heat")
    assert heat["aria-describedby"].split() == ["id_heat_helptext", "id_heat_error"]
    assert heat["aria-invalid"] == "true"
    assert "id_heat" in [one.get("for") for one in page.all("label")]
    described = [name for _, one in page.tags for name in one.get("aria-describedby", "").split()]
    assert set(described) <= set(page.ids)


def test_targets_of_the_summary_are_on_the_page():
    form = BriefForm({})
    summary = Page(render_to_string("frontend/_error_summary.html", {"form": form}))
    assert {one["href"][1:] for one in summary.all("a")} <= set(Page(fields(form)).ids)


def test_nothing_typed_is_lost():
    text = fields(BriefForm({"heat": "a lot", "title": HOSTILE}))
    page = Page(text)
    assert [one.get("value") for one in page.all("input") if one["type"] != "radio"] == ["a lot", HOSTILE]


def test_unit_is_read_with_the_label():
    assert re.search(r'<label for="id_title">Title<span class="hidden-words">, in W</span>', fields(BriefForm()))


def test_table_escapes_and_links():
    cells = (Cell(HOSTILE, "/fans/x/", HOSTILE), Cell("3"))
    table = Table("Fans", (Column("Fan"), Column("Flow", numeric=True)), (cells,))
    page = Page(render_to_string("frontend/_table.html", {"table": table}))
    assert page.open == [] and page.all("a")[0]["href"] == "/fans/x/"
    assert [one.get("scope") for one in page.all("th")] == ["col", "col", "row"]


def test_an_empty_table_says_so():
    table = Table("Fans", (Column("Fan"),), (), empty="No fan has these figures.")
    assert "No fan has these figures." in render_to_string("frontend/_table.html", {"table": table})
