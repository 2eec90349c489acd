"""Signing in and out with a browser's session."""

from __future__ import annotations

from http import HTTPStatus

from django.contrib.auth import authenticate, login, logout
from rest_framework.request import Request
from rest_framework.response import Response

from api.authentication import CHALLENGE
from api.endpoint import Endpoint
from api.errors import ApiError
from api.schema.operation import Answer, Operation
from api.serializers.accounts import AccountAnswer, SignInBody
from api.views.accounts import EXAMPLE, account_body


class WrongPassword(ApiError):
    """No account has this name and password; which of the two is wrong is not told."""

    status_code = HTTPStatus.UNAUTHORIZED

    def __init__(self) -> None:
        detail = "No account has this name and this password. Check both, or open an account first."
        super().__init__(detail, headers={"WWW-Authenticate": CHALLENGE})


class Session(Endpoint):
    """The session of this browser."""

    operations = {
        "POST": Operation(
            "sign_in",
            {200: Answer("The account. Cookies hold the session.", AccountAnswer, EXAMPLE)},
            SignInBody,
            {"member": {"username": "mara.field", "password": "warm-lemon-kettle"}},
        ),
        "DELETE": Operation("sign_out", {204: Answer("The session is over.")}),
    }
    scopes = {"POST": "sign_in"}

    def post(self, request: Request) -> Response:
        """Sign in with a session.

        Changes by a session must send the value of the cookie `csrftoken` as the header `X-CSRFToken`.
        """
        body = SignInBody.read(request.data)
        # Takes as long for a name that nobody has.
        user = authenticate(request, **body)
        if user is None:
            raise WrongPassword
        login(request._request, user)
        return Response(account_body(user))

    def delete(self, request: Request) -> Response:
        """Sign out of the session."""
        logout(request._request)
        return Response(status=204)
