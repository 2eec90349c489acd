"""Where the interface starts."""

from __future__ import annotations

from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.reverse import reverse

from api.endpoint import Endpoint
from api.kinds import KINDS
from api.schema.operation import Answer, Operation
from api.schema.shapes import address, by_name

# Names of the addresses that need no id, in the order in which they are listed.
LISTED: tuple[tuple[str, str], ...] = (
    ("studies", "study-list"),
    ("own-enclosures", "own-enclosure-list"),
    ("own-enclosure-preview", "own-enclosure-preview"),
    ("accounts", "account-list"),
    ("me", "account-me"),
    ("session", "session"),
    ("tokens", "token-list"),
    ("schema", "schema"),
    *((kind.path, f"{kind.word}-list") for kind in KINDS),
)


class Root(Endpoint):
    """The start of the interface."""

    operations = {
        "GET": Operation(
            "read_root",
            {
                200: Answer(
                    "The addresses.",
                    by_name(address("An address."), "Addresses by what they lead to."),
                    {"studies": "http://localhost:8000/api/v1/studies/"},
                )
            },
        )
    }

    def get(self, request: Request) -> Response:
        """Find all addresses that need no id."""
        return Response({name: reverse(f"api:{route}", request=request) for name, route in LISTED})
