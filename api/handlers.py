"""Errors that happen outside an endpoint: in the interface's shape below /api/, as pages elsewhere."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.views import defaults
from rest_framework.renderers import JSONRenderer

from api.errors import CONTENT_TYPE, NOT_ALLOWED, NOT_FOUND, UNEXPECTED, UNREADABLE, problem_body

ROOM = "/api/"


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    if _is_api(request):
        return _problem(request, HTTPStatus.BAD_REQUEST, UNREADABLE)
    return defaults.bad_request(request, exception)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    if _is_api(request):
        return _problem(request, HTTPStatus.FORBIDDEN, NOT_ALLOWED)
    return defaults.permission_denied(request, exception)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    if _is_api(request):
        return _problem(request, HTTPStatus.NOT_FOUND, NOT_FOUND)
    return defaults.page_not_found(request, exception)


def failed(request: HttpRequest) -> HttpResponse:
    if _is_api(request):
        return _problem(request, HTTPStatus.INTERNAL_SERVER_ERROR, UNEXPECTED)
    return defaults.server_error(request)


def _is_api(request: HttpRequest) -> bool:
    return request.path.startswith(ROOM)


def _problem(request: HttpRequest, status: HTTPStatus, detail: str) -> HttpResponse:
    body = JSONRenderer().render(problem_body(status, detail, request.path))
    return HttpResponse(body, status=status, content_type=CONTENT_TYPE)
