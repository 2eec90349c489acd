"""The forms of a part's way into the catalogue."""

from __future__ import annotations

from typing import Any

from django import forms

from catalog.importing.refusals import printable
from catalog.offers import OfferRefused

_PLAIN = {"autocomplete": "off"}


class StepForm(forms.Form):
    """One step of an offer; what is accepted of its fields is for the catalogue to say."""

    step = ""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=f"id_{self.step}_%s", **kwargs)

    def tell(self, refused: OfferRefused) -> None:
        """Put what the catalogue refuses beside the fields."""
        for one in refused.problems:
            words = printable(f"{one.value!s:.60} {one.reason}; accepted: {one.accepted}.")
            self.add_error(one.column if one.column in self.fields else None, words)


class OfferForm(StepForm):
    """Offer one's own part."""

    step = "offer"
    contributor = forms.Field(
        required=False,
        label="Name to be thanked by",
        help_text="Shown to everyone once the catalogue takes it. Leave it empty to stay unnamed.",
        widget=forms.TextInput(_PLAIN),
    )


class AcceptForm(StepForm):
    """Take a part into the catalogue."""

    step = "accept"
    version = forms.Field(required=False, widget=forms.HiddenInput)
    code = forms.Field(
        required=False,
        label="Code in the catalogue",
        help_text="Letters, digits, dots, dashes or underscores; it never changes again.",
        widget=forms.TextInput(_PLAIN),
    )


class DeclineForm(StepForm):
    """Leave a part to its owner."""

    step = "decline"
    version = forms.Field(required=False, widget=forms.HiddenInput)
    note = forms.Field(
        required=False,
        label="Why, and what would help",
        help_text="The owner reads this.",
        widget=forms.Textarea({"rows": 3}),
    )
