"""Where the interface starts."""

from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from api.endpoint import Endpoint

# Names of the addresses that need no id, in the order in which they are listed.
LISTED: tuple[tuple[str, str], ...] = (
    ("accounts", "account-list"),
    ("me", "account-me"),
    ("session", "session"),
    ("tokens", "token-list"),
)


class Root(Endpoint):
    """All addresses that lists and forms of the interface start from."""

    def get(self, request: Request) -> Response:
        return Response({name: reverse(f"api:{route}", request=request) for name, route in LISTED})
