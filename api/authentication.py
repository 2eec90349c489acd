"""Who asks: a program with a token, or a browser's session, whose changes need the proof that our page sent them."""

from __future__ import annotations

import re
from http import HTTPStatus
from typing import TYPE_CHECKING

from django.utils import timezone
from rest_framework.authentication import BaseAuthentication, SessionAuthentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from advisor.accounts import working_token
from advisor.brief import Problem
from advisor.brief.values import missing
from api.errors import ApiError

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from advisor.models import ApiToken

CHALLENGE = 'Bearer realm="api"'
_BEARER = re.compile(r"bearer +([A-Za-z0-9._~+/-]+=*) *", re.IGNORECASE)
_ACCEPTED_TOKEN = "'Bearer' and one of your tokens that has not expired, or no such header"
_ACCEPTED_CSRF = "the value of the cookie csrftoken"


class WrongToken(ApiError):
    """The header that should say who asks says nobody."""

    status_code = HTTPStatus.UNAUTHORIZED

    def __init__(self) -> None:
        # What was sent may be most of a secret, so it is not repeated.
        refused = Problem(
            "Authorization",
            "",
            _ACCEPTED_TOKEN,
            f"Authorization: this names nobody; accepted: {_ACCEPTED_TOKEN}.",
        )
        super().__init__("The header Authorization names nobody.", [refused], {"WWW-Authenticate": CHALLENGE})


class Forged(ApiError):
    """A change by a session without the proof that our own page sent it."""

    status_code = HTTPStatus.FORBIDDEN


class Token(BaseAuthentication):
    """``Authorization: Bearer`` with a token; any other such header is refused rather than overlooked."""

    def authenticate(self, request: Request) -> tuple[User, ApiToken] | None:
        header = request.headers.get("Authorization")
        if header is None:
            return None
        found = _BEARER.fullmatch(header)
        token = working_token(found[1], timezone.now()) if found else None
        if token is None:
            raise WrongToken
        return token.owner, token

    def authenticate_header(self, request: Request) -> str:
        return CHALLENGE


class Session(SessionAuthentication):
    """A browser's session."""

    def enforce_csrf(self, request: Request) -> None:
        try:
            super().enforce_csrf(request)
        except PermissionDenied:
            raise Forged(
                "A session may change things only with its token against forged requests.",
                [missing("X-CSRFToken", _ACCEPTED_CSRF)],
            ) from None
