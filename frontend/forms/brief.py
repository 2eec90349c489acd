"""The form of a brief, made from the one table of its fields. What is wrong with it is for that table to say, too."""

from __future__ import annotations

import hashlib
import json
import re
import uuid
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Self

from django import forms
from django.http import QueryDict

from advisor.brief import CRITERIA, FIELDS, Field, Problem, read_brief
from advisor.brief.fields import FIELD_OF
from advisor.brief.values import Refused, problem, read_value
from frontend.forms.problems import plain_words, words
from frontend.forms.typed import WEIGHT, given_of, number_of, texts_of
from frontend.forms.widgets import Codes, Several
from frontend.templatetags.quantities import significant, with_unit

KEY = "key"
DRIVES = ("drive_count", "usable_capacity_tb")
_KEY = re.compile("[0-9a-f]{32}")
_CHOOSE = ("", "Choose one")
_WEIGHTS = FIELD_OF["weights"]
_ONE_WEIGHT = Field("weights", "number", "", minimum=_WEIGHTS.minimum, maximum=_WEIGHTS.maximum)


class BriefForm(forms.Form):
    """A brief as people fill it in.

    Once checked, ``given`` is the brief as the REST interface would have got it. ``word`` names this form with this
    content: sent twice it means one study, sent with other content another.
    """

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.given: dict[str, Any] = {}
        self.fields[KEY] = forms.Field(required=False, widget=forms.HiddenInput)
        for field in FIELDS:
            self.fields |= dict(_entries(field))

    @classmethod
    def filled(cls, given: Mapping[str, Any]) -> Self:
        """Return a form that holds a brief, to look at and change."""
        return cls(initial={**texts_of(given), KEY: uuid.uuid4().hex})

    @classmethod
    def sent(cls, given: Mapping[str, Any], key: str) -> Self:
        """Return the form as if somebody had filled in this brief and sent it."""
        data = QueryDict(mutable=True)
        for name, value in {**texts_of(given), KEY: key}.items():
            if isinstance(value, list):
                data.setlist(name, value or [""])
            elif value is not False:
                data[name] = "on" if value is True else value
        return cls(data)

    @property
    def word(self) -> str | None:
        key = self.data.get(KEY, "")
        if not _KEY.fullmatch(key):
            return None
        content = json.dumps(self.given, sort_keys=True).encode()
        return f"{key}-{hashlib.sha256(content).hexdigest()[:32]}"

    def clean(self) -> dict[str, Any]:
        typed = self.cleaned_data
        self.given = given_of(typed)
        refused = [*self._weights(typed)]
        for name, _ in refused:
            self.given["weights"].pop(name.removeprefix(WEIGHT))
        if not self.given.get("weights", True):
            del self.given["weights"]
        for name, one in refused:
            self.add_error(name, words(one, typed.get(name)))
        self.tell(read_brief(self.given).problems)
        return typed

    def tell(self, problems: Iterable[Problem]) -> None:
        """Put problems beside the fields that they are about; those about none stand for themselves."""
        for one in problems:
            name = f"{WEIGHT}{CRITERIA[0]}" if one.field == "weights" else one.field
            self.add_error(name if name in self.fields else None, words(one, self.data.get(name)))

    @staticmethod
    def _weights(typed: Mapping[str, Any]) -> Iterator[tuple[str, Problem]]:
        for name in CRITERIA:
            text = typed.get(f"{WEIGHT}{name}") or ""
            value = number_of(text) if text.strip() else 0
            try:
                read_value(_ONE_WEIGHT, value)
            except Refused as refused:
                yield f"{WEIGHT}{name}", problem("weights", value, str(refused), _ONE_WEIGHT.accepted)


def _entries(field: Field) -> Iterator[tuple[str, forms.Field]]:
    """Yield the entries of one field, by name: a field of weights has several."""
    if field.kind == "weights":
        for name in CRITERIA:
            label = field.words[name].capitalize()
            yield f"{WEIGHT}{name}", forms.Field(required=False, label=label, widget=_number_entry("decimal"))
        return
    hint = " ".join(_hints(field))
    yield field.name, forms.Field(required=False, label=field.label, help_text=hint, widget=_widget(field))


def _hints(field: Field) -> Iterator[str]:
    if field.name not in DRIVES:  # their two entries are explained together
        yield plain_words(field.help)
    if field.minimum is not None and field.maximum is not None:
        dash = " to " if field.minimum < 0 else "\u2013"
        ends = dash.join((significant(field.minimum), significant(field.maximum)))
        yield f"{with_unit(ends, field.unit.replace('m2', 'm²'))}."
    if field.default_note:
        yield f"Left empty: {plain_words(field.default_note)}."


def _widget(field: Field) -> forms.Widget:
    choices = [(code, field.words[code]) for code in field.choices if code in field.words]
    match field.kind:
        case "number":
            return _number_entry("text" if (field.minimum or 0) < 0 else "decimal")  # many phones' pads have no minus
        case "integer":
            return _number_entry("numeric")
        case "flag":
            return forms.CheckboxInput()
        case "choice":
            return forms.Select(choices=[_CHOOSE, *choices] if field.required else choices)
        case "choices":
            return Several(choices=choices)
        case "codes":
            return Codes()
        case "currency":
            return forms.TextInput({"class": "short", "autocapitalize": "characters"})
        case _:
            return forms.TextInput()


def _number_entry(keys: str) -> forms.Widget:
    """Return an entry of text, since browsers lose what is no number in an entry of numbers.

    None of these entries says ``autocomplete="off"``: browsers then forget what was typed when somebody comes back.
    """
    return forms.TextInput({"class": "short", "inputmode": keys})
