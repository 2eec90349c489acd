"""Middleware around all other: a header that every answer has, and requests that are not worth reading."""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from rest_framework.renderers import JSONRenderer

from api.errors import CONTENT_TYPE, problem_body
from api.handlers import ROOM
from frontend.views.errors import too_long

_MOST_DIGITS = 12  # Python does not read a number of thousands of digits

Answer = Callable[[HttpRequest], HttpResponse]


class PermissionsPolicy:
    """Let no page use cameras and the like, not even one that somebody frames or injects."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Permissions-Policy", settings.PERMISSIONS_POLICY)
        return response


class Bounds:
    """Answer an address that names nothing, and a body that is too long or does not say how long it is, unread."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if "\0" in request.path_info:  # no code has one, and PostgreSQL can't even look for it
            raise Http404
        if request.META.get("HTTP_TRANSFER_ENCODING"):
            detail = "The body does not say how long it is; send it whole, with the header Content-Length."
            return _refusal(request, HTTPStatus.LENGTH_REQUIRED, detail)
        length = request.META.get("CONTENT_LENGTH") or "0"
        if not (length.isascii() and length.isdecimal()):
            detail = f"The header Content-Length is '{length[:20]}'; accepted: the number of bytes of the body."
            return _refusal(request, HTTPStatus.BAD_REQUEST, detail)
        if len(length) > _MOST_DIGITS or int(length) > settings.LONGEST_BODY:
            detail = f"The body is longer than {settings.LONGEST_BODY} bytes, which is the most; send a shorter one."
            return _too_long(request, detail)
        return self.get_response(request)


def _too_long(request: HttpRequest, detail: str) -> HttpResponse:
    if request.path.startswith(ROOM):
        return _refusal(request, HTTPStatus.REQUEST_ENTITY_TOO_LARGE, detail)
    return too_long(request, settings.LONGEST_BODY)


def _refusal(request: HttpRequest, status: HTTPStatus, detail: str) -> HttpResponse:
    """Answer in the shape of the REST interface below its addresses, and in plain words elsewhere."""
    if request.path.startswith(ROOM):
        body = JSONRenderer().render(problem_body(status, detail, request.path))
        return HttpResponse(body, status=status, content_type=CONTENT_TYPE)
    return HttpResponse(f"{detail}\n", status=status, content_type="text/plain; charset=utf-8")
