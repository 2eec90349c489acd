"""Pages for what went wrong before a view could say it."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def too_long(request: HttpRequest, most_bytes: int) -> HttpResponse:
    """Say that a form holds more than is read."""
    context = {"most_kilobytes": most_bytes // 1024}
    return render(request, "frontend/too_long.html", context, status=HTTPStatus.REQUEST_ENTITY_TOO_LARGE)


def stale_form(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form without a fresh proof that our page sent it; a view that can shows it again, filled in."""
    view = getattr(getattr(request.resolver_match, "func", None), "view_class", None)
    if view is not None and hasattr(view, "stale"):
        return view().stale(request)
    return render(request, "frontend/stale.html", status=HTTPStatus.FORBIDDEN)
