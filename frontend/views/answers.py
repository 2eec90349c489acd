"""Answers as pages: the list of a study, and one build of it, each written once and kept."""

from __future__ import annotations

from functools import partial

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils import timezone

from advisor.engine.inputs import SCENARIOS
from advisor.models import Study
from advisor.running.plans import catalogue_of
from advisor.submit import StudyStatus, status_of
from frontend.contexts import build as builds
from frontend.contexts.shortlist import shortlist_page
from frontend.kept import Kept, Written
from frontend.pictures import housing

_PAGES = Kept()


def list_page(request: HttpRequest, study: Study) -> HttpResponse:
    """Return the page of a study that is done."""
    return _shown(request, _PAGES.page(_answer(study), partial(_write_list, study)))


def build_page(request: HttpRequest, study: Study, build: str) -> HttpResponse:
    """Return the page of a build of a study that is done, in the scenario that the address asks for."""
    asked = request.GET.get("scenario", "")
    scenario = asked if asked in SCENARIOS else ""
    return _shown(
        request, _PAGES.page((*_answer(study), build, scenario), partial(_write_build, study, build, scenario))
    )


def _shown(request: HttpRequest, written: Written) -> HttpResponse:
    response = render(request, "frontend/answer.html", {"written": written})
    response.headers["Cache-Control"] = "private, no-cache"
    return response


def _answer(study: Study) -> tuple[object, ...]:
    """What an answer is known by: whose, to which question, since when."""
    return study.pk, study.outcome_id, study.outcome.key, study.outcome.finished_at


def _found(study: Study) -> StudyStatus:
    standing = status_of(study, timezone.now())
    if standing.record is None:  # it was withdrawn in this very moment
        raise Http404
    return standing


def _write_list(study: Study) -> Written:
    page = shortlist_page(study, _found(study))
    return Written(page.title, render_to_string("frontend/_shortlist.html", {"shortlist": page}))


def _write_build(study: Study, identity: str, scenario: str) -> Written:
    record = _found(study).record or {}
    found = builds.find_build(record, identity)
    if found is None:
        raise Http404
    boxes = catalogue_of(study.outcome.snapshot_id).enclosures
    box = next(one for one in boxes if one.code == found["enclosure"])
    as_it_stands = housing.of_engine(box, record["brief"]["orientation"])
    page = builds.build_page(study, record, found, scenario, as_it_stands)
    return Written(f"{page.name} – {page.study_title}", render_to_string("frontend/_build.html", {"build": page}))
