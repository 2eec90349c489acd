"""The one shape of every error: problem details as of RFC 9457, with an entry for each value that is refused."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict
from http import HTTPStatus
from typing import TYPE_CHECKING, Any

from django.core.exceptions import BadRequest, PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404, UnreadablePostError
from django.http.multipartparser import MultiPartParserError
from django.utils.encoding import escape_uri_path
from rest_framework import exceptions
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.brief import Problem
from advisor.brief.values import problem

if TYPE_CHECKING:  # views load this module by the settings
    from rest_framework.views import APIView

CONTENT_TYPE = "application/problem+json"
PAGE_FORMAT = "api"

# One sentence for what does not exist and for what is somebody else's, so that nobody can tell the two apart.
NOT_FOUND = "There is nothing here, or nothing that you may see. Check the address; it ends with a slash."
NOT_SIGNED_IN = "Sign in first: send 'Authorization: Bearer' with one of your tokens, or open a session."
NOT_ALLOWED = "Your account may not do this; accepted: an account with the role that it needs."
UNEXPECTED = "Something went wrong on our side, and it has been written down. Try again in a while."
UNREADABLE = "The request cannot be read; send it as HTTP says, with a JSON body in UTF-8."


class ApiError(exceptions.APIException):
    """An answer that is an error: its status, a sentence, and what is refused."""

    status_code = HTTPStatus.BAD_REQUEST

    def __init__(self, detail: str, problems: Iterable[Problem] = (), headers: Mapping[str, str] | None = None) -> None:
        super().__init__(detail)
        self.problems = tuple(problems)
        self.headers = dict(headers or {})


class Unreadable(ApiError):
    """The body or a header breaks its own syntax."""


class Forbidden(ApiError):
    """The account may not do this, and may know why."""

    status_code = HTTPStatus.FORBIDDEN


class Conflict(ApiError):
    """The request is fine by itself but not beside what is stored."""

    status_code = HTTPStatus.CONFLICT


class Stale(ApiError):
    """The thing has changed since the client read it."""

    status_code = HTTPStatus.PRECONDITION_FAILED


class TooLarge(ApiError):
    """The body is longer than we take."""

    status_code = HTTPStatus.REQUEST_ENTITY_TOO_LARGE


class Invalid(ApiError):
    """The request can be read, and values in it are refused."""

    status_code = HTTPStatus.UNPROCESSABLE_ENTITY

    def __init__(self, problems: Iterable[Problem]) -> None:
        found = tuple(problems)
        count = "One value is" if len(found) == 1 else f"{len(found)} values are"
        super().__init__(f"{count} refused; 'problems' says which, and what is accepted.", found)


class MatchNeeded(ApiError):
    """A change must name the version that it changes."""

    status_code = HTTPStatus.PRECONDITION_REQUIRED


class TooMany(ApiError):
    """More than this person or address may do at a time."""

    status_code = HTTPStatus.TOO_MANY_REQUESTS


class _Plain(ApiError):
    """An exception of the framework in our words."""

    def __init__(
        self, status: HTTPStatus, detail: str, *problems: Problem, headers: Mapping[str, str] | None = None
    ) -> None:
        super().__init__(detail, problems, headers)
        self.status_code = status


def problem_body(status: int, detail: str, address: str, problems: Iterable[Problem] = ()) -> dict[str, Any]:
    """Return the body of an error: every member always there, in the same order."""
    return {
        "type": "about:blank",
        "title": HTTPStatus(status).phrase,
        "status": int(status),
        "detail": detail,
        "instance": escape_uri_path(address),
        "problems": [asdict(problem) for problem in problems],
    }


def exception_handler(exc: Exception, context: Mapping[str, Any]) -> Response | None:
    """Answer an exception of an endpoint, or leave it to Django as a fault of ours."""
    request = context["request"]
    error = in_our_words(exc, request, context["view"])
    if error is None:
        return None
    body = problem_body(error.status_code, str(error.detail), request.path, error.problems)
    page = getattr(getattr(request, "accepted_renderer", None), "format", "") == PAGE_FORMAT
    if not page:  # whatever form an answer would have had
        request.accepted_renderer, request.accepted_media_type = JSONRenderer(), JSONRenderer.media_type
    return Response(body, error.status_code, headers=error.headers, content_type=None if page else CONTENT_TYPE)


def in_our_words(exc: Exception, request: Request, view: APIView) -> ApiError | None:
    """Return what an exception says to the client, or None where it is a fault and no answer."""
    if isinstance(exc, ApiError):
        return exc
    return next((said(exc, request, view) for kinds, said in _SAID if isinstance(exc, kinds)), None)


def _not_found(exc: Exception, request: Request, view: APIView) -> ApiError:
    return _Plain(HTTPStatus.NOT_FOUND, NOT_FOUND)


def _unauthorized(exc: exceptions.APIException, request: Request, view: APIView) -> ApiError:
    headers = {"WWW-Authenticate": exc.auth_header} if getattr(exc, "auth_header", None) else {}
    return _Plain(HTTPStatus.UNAUTHORIZED, NOT_SIGNED_IN, headers=headers)


def _forbidden(exc: Exception, request: Request, view: APIView) -> ApiError:
    return _Plain(HTTPStatus.FORBIDDEN, NOT_ALLOWED)


def _wrong_method(exc: exceptions.MethodNotAllowed, request: Request, view: APIView) -> ApiError:
    refused = problem("method", request.method, "cannot be done here", ", ".join(view.allowed_methods))
    return _Plain(
        HTTPStatus.METHOD_NOT_ALLOWED, "This address knows other methods; the header Allow lists them.", refused
    )


def _not_acceptable(exc: Exception, request: Request, view: APIView) -> ApiError:
    accepted = " or ".join(renderer.media_type for renderer in view.get_renderers())
    refused = problem("Accept", request.headers.get("Accept", ""), "is no form that answers have here", accepted)
    return _Plain(HTTPStatus.NOT_ACCEPTABLE, "The answer has no form that you accept.", refused)


def _wrong_type(exc: Exception, request: Request, view: APIView) -> ApiError:
    accepted = " or ".join(parser.media_type for parser in view.get_parsers()) + " in UTF-8"
    refused = problem("Content-Type", request.content_type, "is not read here", accepted)
    return _Plain(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "The body is of a kind that is not read here.", refused)


def _throttled(exc: exceptions.Throttled, request: Request, view: APIView) -> ApiError:
    wait = str(int(exc.wait or 1))
    detail = f"That is too many requests for now; try again in {wait} s, as the header Retry-After says."
    return _Plain(HTTPStatus.TOO_MANY_REQUESTS, detail, headers={"Retry-After": wait})


def _too_large(exc: Exception, request: Request, view: APIView) -> ApiError:
    return _Plain(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "The body is too long; send a shorter one.")


def _unreadable(exc: Exception, request: Request, view: APIView) -> ApiError:
    return _Plain(HTTPStatus.BAD_REQUEST, UNREADABLE)


# The first that fits is taken.
_SAID: tuple[tuple[Any, Callable[[Any, Request, APIView], ApiError]], ...] = (
    ((Http404, exceptions.NotFound), _not_found),
    ((exceptions.NotAuthenticated, exceptions.AuthenticationFailed), _unauthorized),
    ((exceptions.PermissionDenied, PermissionDenied), _forbidden),
    (exceptions.MethodNotAllowed, _wrong_method),
    (exceptions.NotAcceptable, _not_acceptable),
    (exceptions.UnsupportedMediaType, _wrong_type),
    (exceptions.Throttled, _throttled),
    (RequestDataTooBig, _too_large),
    ((exceptions.ParseError, BadRequest, SuspiciousOperation, MultiPartParserError, UnreadablePostError), _unreadable),
)
