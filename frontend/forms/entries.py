"""Entries of forms with their unit, as text: browsers lose what is no number in an entry of numbers."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.forms.utils import flatatt
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from frontend.forms.widgets import Several

SELECTED = mark_safe(" selected")
Words = Iterable[tuple[str, str]]


class Line(forms.TextInput):
    """A line of text, written without a template: a form of an enclosure has two hundred entries."""

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        given = self.build_attrs(self.attrs, attrs)
        text = self.format_value(value)
        held = "" if text is None else format_html(' value="{}"', text)
        return format_html('<input type="text" name="{}"{}{}>', name, held, flatatt(given))


class OneOf(forms.Select):
    """A list to choose one from, written without a template."""

    def render(self, name: str, value: Any, attrs: Any = None, renderer: Any = None) -> SafeString:
        chosen = str(value or "")
        options = format_html_join(
            "",
            '<option value="{}"{}>{}</option>',
            ((code, SELECTED if str(code) == chosen else "", words) for code, words in self.choices),
        )
        return format_html(
            '<select name="{}"{}>{}</select>', name, flatatt(self.build_attrs(self.attrs, attrs)), options
        )


class Entry(forms.Field):
    """An entry that takes any text, with the unit to stand behind it; the rooms below say what is accepted."""

    def __init__(self, *, unit: str = "", **more: Any) -> None:
        self.unit = unit
        super().__init__(required=False, **more)


def number_entry(*, whole: bool = False, signed: bool = False, **more: Any) -> Entry:
    """Return an entry for a number; many phones' pads have no minus."""
    keys = "text" if signed else "numeric" if whole else "decimal"
    return Entry(widget=Line({"class": "short", "inputmode": keys, "autocomplete": "off"}), **more)


def text_entry(**more: Any) -> Entry:
    return Entry(widget=Line({"autocomplete": "off"}), **more)


def lines_entry(rows: int, **more: Any) -> Entry:
    return Entry(widget=forms.Textarea({"rows": rows, "autocomplete": "off", "class": "lines"}), **more)


def choice_entry(words: Words, none: str = "", **more: Any) -> Entry:
    """Return a list to choose one from; ``none`` is said of the empty choice, which is there if it has words."""
    choices = [("", none), *words] if none else [*words]
    return Entry(widget=OneOf(choices=choices), **more)


def several_entry(words: Words, **more: Any) -> Entry:
    return Entry(widget=Several(choices=[*words]), **more)
