"""Entries of forms with their unit, as text: browsers lose what is no number in an entry of numbers."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from frontend.forms.widgets import Several

Words = Iterable[tuple[str, str]]


class Entry(forms.Field):
    """An entry that takes any text, with the unit to stand behind it; the rooms below say what is accepted."""

    def __init__(self, *, unit: str = "", **more: Any) -> None:
        self.unit = unit
        super().__init__(required=False, **more)


def number_entry(*, whole: bool = False, signed: bool = False, **more: Any) -> Entry:
    """Return an entry for a number; many phones' pads have no minus."""
    keys = "text" if signed else "numeric" if whole else "decimal"
    return Entry(widget=forms.TextInput({"class": "short", "inputmode": keys, "autocomplete": "off"}), **more)


def text_entry(**more: Any) -> Entry:
    return Entry(widget=forms.TextInput({"autocomplete": "off"}), **more)


def lines_entry(rows: int, **more: Any) -> Entry:
    return Entry(widget=forms.Textarea({"rows": rows, "autocomplete": "off", "class": "lines"}), **more)


def choice_entry(words: Words, none: str = "", **more: Any) -> Entry:
    """Return a list to choose one from; ``none`` is said of the empty choice, which is there if it has words."""
    choices = [("", none), *words] if none else [*words]
    return Entry(widget=forms.Select(choices=choices), **more)


def several_entry(words: Words, **more: Any) -> Entry:
    return Entry(widget=Several(choices=[*words]), **more)
