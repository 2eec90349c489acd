"""Offers to the catalogue: what is sent with them."""

from __future__ import annotations

from api.serializers.bodies import Body, Text
from catalog.models import Part
from catalog.validators import CODE_ACCEPTED

_LONGEST_NAME = Part._meta.get_field("contributor").max_length
_LONGEST_NOTE = Part._meta.get_field("decline_note").max_length


class OfferBody(Body):
    """An offer."""

    contributor = Text(
        accepted=f"text of up to {_LONGEST_NAME} characters, or nothing",
        required=False,
        allow_blank=True,
        max_length=_LONGEST_NAME,
        help_text="Name under which you want to be thanked in public: your username unless told, nobody if empty.",
    )


class AcceptBody(Body):
    """An acceptance."""

    code = Text(accepted=CODE_ACCEPTED, max_length=64, help_text="Code that the part gets in the public catalogue.")


class DeclineBody(Body):
    """A refusal."""

    note = Text(
        accepted=f"text of 1 to {_LONGEST_NOTE} characters",
        max_length=_LONGEST_NOTE,
        help_text="Why, and what would help: a sentence for the owner.",
    )
