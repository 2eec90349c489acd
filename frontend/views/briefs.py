"""The brief: filling it in, sending it."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from http import HTTPStatus
from typing import Any

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views import View

from advisor.access.objects import studies_open
from advisor.allowance import TooManyUnfinished
from advisor.models import Study
from advisor.rates import guest_digest, seconds_to_wait
from advisor.sending import BriefRefused, send_brief
from frontend.contexts.brief import brief_page
from frontend.contexts.studies import name_of
from frontend.forms.brief import KEY, BriefForm
from frontend.starting_points import POINT_OF
from frontend.views.errors import too_long

AT_ONCE = "at_once"  # sends a starting point, or a study's brief, as it is
_STALE = (
    "This page had grown old, so nothing was sent: that happens after signing in or out, or without cookies. "
    "What you typed is still here; send it again."
)


class Brief(View):
    """The form, empty, with a starting point, or with the brief of a study."""

    def get(self, request: HttpRequest) -> HttpResponse:
        given, about = _beginning(request, request.GET)
        return _page(request, BriefForm.filled(given), **about)

    def post(self, request: HttpRequest) -> HttpResponse:
        if int(request.META.get("CONTENT_LENGTH") or 0) > settings.BODY_LIMIT:
            return too_long(request, settings.BODY_LIMIT)
        form = _sent(request)
        if not form.is_valid():
            return _page(request, form)
        wait = seconds_to_wait("study", request)
        if wait:
            form.add_error(None, f"That is more studies than one may send in an hour. Try again in {_minutes(wait)}.")
            return _page(request, form, HTTPStatus.TOO_MANY_REQUESTS, wait=wait)
        return _study_of(request, form)

    def stale(self, request: HttpRequest) -> HttpResponse:
        """Answer a form whose proof that our page sent it is old: nothing is sent, nothing typed is lost."""
        form = _sent(request)
        form.add_error(None, _STALE)
        return _page(request, form, HTTPStatus.FORBIDDEN)


def _study_of(request: HttpRequest, form: BriefForm) -> HttpResponse:
    owner = request.user if request.user.is_authenticated else None
    sender = {"owner": owner, "guest": guest_digest(request), "idempotency_key": form.word}
    try:
        study = send_brief(form.given, **sender, now=timezone.now())
    except BriefRefused as refused:
        form.tell(refused.problems)
        return _page(request, form)
    except TooManyUnfinished as most:
        form.add_error(None, f"You have {most} unfinished studies, which is the most. Wait for one, or cancel it.")
        return _page(request, form, HTTPStatus.TOO_MANY_REQUESTS, wait=settings.STUDY_POLL_SECONDS)
    return HttpResponseRedirect(reverse("pages:study", args=[study.pk]))


def _sent(request: HttpRequest) -> BriefForm:
    if AT_ONCE not in request.POST:
        return BriefForm(request.POST)
    return BriefForm.sent(_beginning(request, request.POST)[0], request.POST.get(KEY, ""))


def _page(
    request: HttpRequest, form: BriefForm, status: int = HTTPStatus.OK, *, wait: int = 0, **about: str
) -> HttpResponse:
    page = brief_page(form, request.user, **about)
    response = render(request, "frontend/brief.html", {"page": page, "form": form}, status=status)
    if wait:
        response.headers["Retry-After"] = str(wait)
    return response


def _beginning(request: HttpRequest, asked: Mapping[str, str]) -> tuple[Mapping[str, Any], dict[str, str]]:
    """Return the brief to begin with, and what it is from."""
    if "from" in asked:
        study = _study(request, asked["from"])
        return study.brief_given, {"changes": name_of(study)}
    if "start" not in asked:
        return {}, {}
    point = POINT_OF.get(asked["start"])
    if point is None:
        raise Http404
    return point.given, {"begun": point.title}


def _study(request: HttpRequest, identity: str) -> Study:
    try:
        found = studies_open(request.user).with_id(uuid.UUID(identity)).first()
    except ValueError:
        found = None
    if found is None:
        raise Http404
    return found


def _minutes(seconds: int) -> str:
    return f"{seconds} seconds" if seconds < 90 else f"{-(-seconds // 60)} minutes"
