"""Opening an account, and looking at one's own."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from advisor.access.roles import role_of
from advisor.accounts import ACCEPTED_PASSWORD, NameTaken, WeakPassword, sign_up, tag_of
from advisor.brief.values import problem
from api.endpoint import Endpoint
from api.errors import Invalid
from api.schema.operation import Answer, Operation
from api.serializers.accounts import AccountAnswer, SignUpBody
from api.serializers.bodies import hidden
from catalog.ownership import PREFIX

if TYPE_CHECKING:
    from django.contrib.auth.models import User


EXAMPLE = {
    "username": "mara.field",
    "role": "member",
    "own_prefix": "own-k3v7q2xa-",
    "joined_at": "2026-11-25T09:30:00Z",
}


class Accounts(Endpoint):
    """Where accounts are opened."""

    operations = {
        "POST": Operation(
            "open_account",
            {201: Answer("The account.", AccountAnswer, EXAMPLE, {"Location": "Address of the account."})},
            SignUpBody,
            {"member": {"username": "mara.field", "password": "warm-lemon-kettle"}},
        )
    }
    scopes = {"POST": "sign_up"}

    def post(self, request: Request) -> Response:
        """Open an account."""
        body = SignUpBody.read(request.data)
        try:
            user = sign_up(**body, now=timezone.now())
        except NameTaken:
            taken = problem("username", body["username"], "belongs to somebody", "a name that nobody has yet")
            raise Invalid([taken]) from None
        except WeakPassword as weak:
            why = f"is easy to guess ({' '.join(weak.args)})"
            raise Invalid([hidden("password", why, ACCEPTED_PASSWORD)]) from None
        address = reverse("api:account-me", request=request)
        return Response(account_body(user), status=201, headers={"Location": address})


class Me(Endpoint):
    """The account that asks."""

    operations = {"GET": Operation("read_me", {200: Answer("The account.", AccountAnswer, EXAMPLE)})}

    def get(self, request: Request) -> Response:
        """Tell who asks, and what that account may do."""
        return Response(account_body(request.user))


def account_body(user: User) -> dict[str, Any]:
    """Return what an account is told about itself."""
    facts = {
        "username": user.get_username(),
        "role": role_of(user).name.lower(),
        "own_prefix": f"{PREFIX}{tag_of(user)}-",
        "joined_at": user.date_joined,
    }
    return AccountAnswer(facts).data
