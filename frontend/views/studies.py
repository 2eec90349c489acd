"""Studies: how one stands, stopping it, one's own."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views import View

from advisor.access.objects import studies_listed, studies_open
from advisor.models import Study
from advisor.states import UNFINISHED, State
from advisor.submit import StudyStatus, cancel_study, status_of
from frontend.contexts.studies import study_page, study_table
from frontend.views import answers

STOP_POLLING = 286  # htmx's word for: ask no more
_ROWS = 50


class StudyDetail(View):
    """A study: how far it is, or what was found."""

    def get(self, request: HttpRequest, id: UUID) -> HttpResponse:
        study = open_study(request, id)
        if study.status == State.DONE:
            return answers.list_page(request, study)
        standing = status_of(study, timezone.now())
        if standing.status == State.DONE:  # in this very moment
            return answers.list_page(request, open_study(request, id))
        return _uncached(_standing(request, study, standing, "frontend/study.html"))


class StudyProgress(View):
    """The part of that page that changes; a script asks for it again and again, and reloads the page at the end."""

    def get(self, request: HttpRequest, id: UUID) -> HttpResponse:
        study = open_study(request, id)
        standing = status_of(study, timezone.now())
        response = _uncached(_standing(request, study, standing, "frontend/_progress.html"))
        if standing.status not in UNFINISHED:
            response.status_code = STOP_POLLING if request.htmx else response.status_code
            response.headers["HX-Refresh"] = "true"
        return response


class StudyCancel(View):
    """The sender lost interest."""

    def post(self, request: HttpRequest, id: UUID) -> HttpResponse:
        study = open_study(request, id)
        if not cancel_study(study, timezone.now()):
            messages.info(request, "This study had ended before; nothing was left to cancel.")
        return HttpResponseRedirect(reverse("pages:study", args=[study.pk]))


class StudyList(View):
    """One's own studies."""

    def get(self, request: HttpRequest) -> HttpResponse:
        pages = Paginator(studies_listed(request.user).with_outcome(), _ROWS)
        page = pages.get_page(request.GET.get("page"))
        return render(request, "frontend/study_list.html", {"table": study_table(page), "page": page})


def open_study(request: HttpRequest, identity: UUID) -> Study:
    """Return the study at an address, if this person may open it; another's is answered as none."""
    study = studies_open(request.user).with_id(identity).with_outcome().first()
    if study is None:
        raise Http404
    return study


def _standing(request: HttpRequest, study: Study, standing: StudyStatus, template: str) -> HttpResponse:
    context = {"study": study_page(study, standing), "seconds": settings.STUDY_POLL_SECONDS}
    return render(request, template, context)


def _uncached(response: HttpResponse) -> HttpResponse:
    response.headers["Cache-Control"] = "private, no-cache"
    return response
