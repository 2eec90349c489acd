"""Own enclosures, entered by what a tape measure and a photograph give."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.conf import settings
from rest_framework.request import Request
from rest_framework.response import Response

from advisor.access.objects import parts_owned
from advisor.accounts import tag_of
from advisor.tape.entering import derive, enter_enclosure
from advisor.tape.entry import TapeEntry
from advisor.tape.reading import read_tape
from api.endpoint import Endpoint, ListEndpoint
from api.errors import Invalid
from api.examples import tape as examples
from api.kinds import KIND_OF
from api.schema.operation import Answer, Operation
from api.schema.shapes import named, page_of
from api.serializers.parts import body_of, fetched, version_of
from api.serializers.tape import derived_body
from api.writing import answering
from catalog.models import Enclosure

KIND = KIND_OF["enclosures"]
_OUTLINE = KIND.layout.outside
_ENTRY = named("TapeEntry")


class OwnEnclosures(ListEndpoint):
    """Enclosures of one's own."""

    body_limit = settings.PART_BODY_LIMIT
    operations = {
        "GET": Operation(
            "list_own_enclosures",
            {200: Answer("A page of them.", page_of(named("EnclosureOutline"), "enclosures"), examples.page)},
        ),
        "POST": Operation(
            "enter_own_enclosure",
            {
                201: Answer(
                    "It is there.",
                    named("OwnEnclosure"),
                    examples.entered,
                    {"Location": "Address of the enclosure.", "ETag": "The version of the enclosure."},
                )
            },
            _ENTRY,
            examples.ENTRIES,
            {409: "You have as many own parts as one may have."},
        ),
    }

    def order(self, request: Request) -> Sequence[str]:
        return ("code",)

    def get(self, request: Request) -> Response:
        """List your own enclosures, however they were entered."""
        rows = fetched(parts_owned(Enclosure, request.user), _OUTLINE)
        return self.page(rows, lambda row: body_of(KIND, _OUTLINE, row, request))

    def post(self, request: Request) -> Response:
        """Enter an enclosure of your own by tape measure and photograph.

        Zones, openings, bay groups, seats, insertion losses and sound shares are derived by handbook relations, with
        wide bands. It is private until you offer it; its code is `own-<your tag>-<word>`.
        """
        entry = _entry(request)
        with answering():
            row, result = enter_enclosure(
                entry=entry, given=request.data, owner=request.user, tag=tag_of(request.user), most=settings.OWN_PARTS
            )
        stored = fetched(parts_owned(Enclosure, request.user), KIND.layout).coded(row.code).get()
        body = body_of(KIND, KIND.layout, stored, request)
        headers = {"Location": body["url"], "ETag": version_of(body)}
        return Response(_shown(body, result.derived), status=201, headers=headers)


class OwnEnclosurePreview(Endpoint):
    """What would be derived."""

    body_limit = settings.PART_BODY_LIMIT
    operations = {
        "POST": Operation(
            "preview_own_enclosure",
            {200: Answer("What would be stored.", named("OwnEnclosurePreview"), examples.previewed)},
            _ENTRY,
            examples.ENTRIES,
        )
    }

    def post(self, request: Request) -> Response:
        """See what an enclosure entered by tape would come to; nothing is stored."""
        result = derive(_entry(request))
        return Response(_shown(result.block, result.derived))


def _entry(request: Request) -> TapeEntry:
    """Return the entry in the body, or raise with everything that is wrong with it."""
    reading = read_tape(request.data)
    if reading.entry is None:
        raise Invalid(reading.problems)
    return reading.entry


def _shown(enclosure: Any, derived: Any) -> dict[str, Any]:
    return {"enclosure": enclosure, "derived": derived_body(derived)}
