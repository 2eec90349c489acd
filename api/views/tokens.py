"""The tokens of one's programs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from django.http import Http404
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.access.objects import tokens_of
from advisor.accounts import TooManyTokens, issue_token
from advisor.models import ApiToken
from api.endpoint import Endpoint, ListEndpoint
from api.errors import Conflict
from api.schema.operation import PATH, Answer, Operation, Parameter
from api.schema.shapes import named, page_of, text
from api.serializers.accounts import NewTokenAnswer, TokenAnswer, TokenBody

EXAMPLE = {
    "url": "http://localhost:8000/api/v1/tokens/Qx3vT0aB/",
    "prefix": "Qx3vT0aB",
    "name": "laptop",
    "created_at": "2026-11-25T09:30:00Z",
    "expires_at": "2026-12-25T09:30:00Z",
    "last_used_at": None,
}
PAGE = {"next": None, "previous": None, "results": [EXAMPLE]}
NEW = EXAMPLE | {"token": "Qx3vT0aB" + "x" * 35}


class Tokens(ListEndpoint):
    """The tokens of the account that asks."""

    operations = {
        "GET": Operation(
            "list_tokens", {200: Answer("A page of them.", page_of(named("TokenAnswer"), "tokens"), PAGE)}
        ),
        "POST": Operation(
            "make_token",
            {201: Answer("The token.", NewTokenAnswer, NEW, {"Location": "Address of the token."})},
            TokenBody,
            {"for_a_month": {"name": "laptop", "expires_in_days": 30}, "as_usual": {"name": "shelf monitor"}},
            {409: "You have as many tokens as one may have."},
        ),
    }

    def order(self, request: Request) -> Sequence[str]:
        return ("-created_at", "prefix")

    def get(self, request: Request) -> Response:
        """List your tokens, newest first."""
        context = {"request": request}
        return self.page(tokens_of(request.user), lambda token: TokenAnswer(token, context=context).data)

    def post(self, request: Request) -> Response:
        """Make a token; its text is in this answer and in no other."""
        body, now = TokenBody.read(request.data), timezone.now()
        expires_at = now + timedelta(days=body["expires_in_days"])
        if isinstance(request.auth, ApiToken):
            expires_at = min(expires_at, request.auth.expires_at)
        try:
            token, text = issue_token(owner=request.user, name=body["name"], expires_at=expires_at, now=now)
        except TooManyTokens as most:
            raise Conflict(f"You have {most} tokens, and that is how many one may have. Delete one first.") from None
        token.text = text
        answer = NewTokenAnswer(token, context={"request": request}).data
        return Response(answer, status=201, headers={"Location": str(answer["url"])})


class Token(Endpoint):
    """One of those tokens."""

    path_parameters = (Parameter("prefix", text("First eight characters of the token."), PATH),)
    operations = {
        "GET": Operation("read_token", {200: Answer("The token.", TokenAnswer, EXAMPLE)}),
        "DELETE": Operation("delete_token", {204: Answer("It works no longer.")}),
    }

    def get(self, request: Request, prefix: str) -> Response:
        """Look at one of your tokens, but for its text."""
        return Response(TokenAnswer(self._mine(prefix), context={"request": request}).data)

    def delete(self, request: Request, prefix: str) -> Response:
        """Make a token stop working, for good."""
        self._mine(prefix).delete()
        return Response(status=204)

    def _mine(self, prefix: str) -> ApiToken:
        token = tokens_of(self.request.user).named(prefix).first()
        if token is None:
            raise Http404
        return token
