"""Who asks: a browser's session, whose changes need the token against forged requests."""

from __future__ import annotations

from http import HTTPStatus

from rest_framework.authentication import SessionAuthentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from advisor.brief.values import missing
from api.errors import ApiError

_ACCEPTED = "the value of the cookie csrftoken"


class Forged(ApiError):
    """A change by a session without the proof that our own page sent it."""

    status_code = HTTPStatus.FORBIDDEN


class Session(SessionAuthentication):
    """A browser's session."""

    def enforce_csrf(self, request: Request) -> None:
        try:
            super().enforce_csrf(request)
        except PermissionDenied:
            raise Forged(
                "A session may change things only with its token against forged requests.",
                [missing("X-CSRFToken", _ACCEPTED)],
            ) from None
