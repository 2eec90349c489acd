"""The form of an own part of any kind, made from the layout of its block; what is accepted, the catalogue says."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from django import forms

from catalog.built_in import ESTIMATE, MEASURE, OWN_MAKER
from catalog.consistency import NOTHING
from catalog.importing.refusals import Refusal, printable, show
from catalog.models.columns import Checked, Choice, Count, Flag, Quantity
from catalog.models.lists import Numbers, Points, Words
from catalog.shapes import Format, Group
from frontend.contexts.columns import by_subject, help_of, label_of, unit_of, unit_words, word_of
from frontend.forms.entries import (
    Entry,
    choice_entry,
    lines_entry,
    number_entry,
    several_entry,
    text_entry,
)
from frontend.forms.typed import number_of, text_of
from frontend.templatetags.quantities import exact

VERSION = "version"
# Of a supply of one's own, nobody else shares the air path: the part's own word is a good name for it.
_BY_SERVICE = {"air_path"}
_BETWEEN = re.compile(r"[;:/\s]+|,\s+")
_SOURCES = ((MEASURE, "I measured them"), (ESTIMATE, "I estimate them, or read them off what looks alike"))
_CURVE_FIRST = 1  # entries of a group that stand for it where a problem is about the group as a whole


class OwnPartForm(forms.Form):
    """An own part as people fill it in; ``block`` is what the catalogue gets to read."""

    def __init__(self, layout: Format, *args: Any, is_new: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.layout, self.is_new = layout, is_new
        self.fields["name"] = text_entry(
            label="Name", help_text=f"{help_of(layout.columns['name'])} 1 to 120 characters."
        )
        if is_new:
            word = "A short word for it, such as attic-1: letters, digits, dashes. It never changes again."
            self.fields["code"] = text_entry(label="Short word", help_text=word)
        self.fields["maker"] = text_entry(
            label="Maker", initial=OWN_MAKER, help_text=f"A maker of the catalogue by name, or {OWN_MAKER}."
        )
        self.fields["source"] = choice_entry(self._sources(), label="Its figures", initial=ESTIMATE)
        for title, keys in by_subject(layout):
            for key, name in keys:
                if key not in _BY_SERVICE:
                    self.fields[key] = _entry(layout, key, layout.columns[name])
                    self.fields[key].subject = title
        self.fields[VERSION] = forms.Field(required=False, widget=forms.HiddenInput)

    @property
    def subjects(self) -> list[tuple[str, list[forms.BoundField]]]:
        """Entries under their subjects, those that name the part first."""
        naming = [self[name] for name in ("name", "code", "maker", "source") if name in self.fields]
        found: dict[str, list[forms.BoundField]] = {"What it is": naming}
        for name, field in self.fields.items():
            if hasattr(field, "subject"):
                found.setdefault(field.subject, []).append(self[name])
        return list(found.items())

    def block(self) -> dict[str, Any]:
        """Return what was typed as a block of the catalogue, without what was left empty."""
        block: dict[str, Any] = {}
        columns = {key: self.layout.columns[name] for _, keys in by_subject(self.layout) for key, name in keys}
        for name in ("name", "code", "maker", "source"):
            if name in self.fields:
                block[name] = self._typed(name).strip()
        for key, column in columns.items():
            if key in self.fields:
                value = _value(column, self._typed(key))
                if value is not None:
                    group, _, inner = key.rpartition(".")
                    (block.setdefault(group, {}) if group else block)[inner] = value
        if self.is_new and "air_path" in columns:
            block["air_path"] = block["code"]
        return block

    def tell(self, refusals: Iterable[Refusal]) -> None:
        """Put what the catalogue refuses beside the entries that it is about."""
        for one in refusals:
            self.add_error(self._entry_of(one.field), _words(one))

    def _typed(self, name: str) -> Any:
        field = self.fields[name]
        return field.widget.value_from_datadict(self.data, {}, name) or ""

    def _entry_of(self, path: str) -> str | None:
        first = path.split(", ")[0]
        beginning = [name for name in self.fields if name.startswith(f"{first}.")]
        found = [name for name in (first, *beginning[:_CURVE_FIRST]) if name in self.fields]
        return found[0] if found else None

    def _sources(self) -> list[tuple[str, str]]:
        given = self.initial.get("source")
        known = dict(_SOURCES)
        return [*_SOURCES, *([(given, f"From {given}, as before")] if given and given not in known else [])]


def texts_of(layout: Format, block: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the form holds for a whole block."""
    texts: dict[str, Any] = {name: block[name] for name in ("name", "maker", "source")}
    for _, keys in by_subject(layout):
        for key, name in keys:
            group, _, inner = key.rpartition(".")
            within = (block.get(group) or {}) if group else block
            texts[key] = _text(layout.columns[name], within.get(inner))
    return texts


def revised(form: OwnPartForm, before: Mapping[str, Any]) -> dict[str, Any]:
    """Return a block changed to what was typed; what the form does not show stays."""
    kept = {key: value for key, value in before.items() if key in ("code", "sources", "uncertainty", *_BY_SERVICE)}
    typed = form.block()
    groups = {entry.key: None for entry in form.layout.entries if isinstance(entry, Group) and entry.optional}
    return {**kept, **groups, **typed}


def _entry(layout: Format, key: str, column: Checked) -> Entry:
    more = {"label": label_of(key), "unit": unit_of(column)}
    default = layout.defaults.get(column.name, NOTHING)
    hint = " ".join(_hints(column, default))
    match column:
        case Flag():
            return Entry(label=more["label"], help_text=hint, widget=forms.CheckboxInput(), initial=default is True)
        case Choice():
            words = [(word, word_of(column, word)) for word in column.words if word]
            none = "any" if column.blank else "" if default is not NOTHING else "choose one"
            return choice_entry(words, none, label=more["label"], help_text=hint, initial=_text(column, default))
        case Words():
            return several_entry(
                [(word, word_of(column, word)) for word in column.words], label=more["label"], help_text=hint
            )
        case Points():
            return lines_entry(6, label=more["label"], help_text=hint)
        case Numbers():
            return text_entry(help_text=f"{hint} With spaces between.", **more)
    return number_entry(whole=isinstance(column, Count), help_text=hint, **more)


def _hints(column: Checked, default: Any) -> Iterable[str]:
    yield help_of(column)
    if isinstance(column, Quantity | Count):
        low, high = exact(column.range.low), exact(column.range.high, unit_of(column))
        yield f"{'Above ' if column.range.low_open else ''}{low} to {high}."
    if isinstance(column, Points):
        ends = [unit_words(one.unit) or "a share, 0.5 for half" for one in (column.across, column.up)]
        yield f"One reading a line: {ends[0]}, a space, {ends[1]}."
    if default is not NOTHING and isinstance(default, int | float) and not isinstance(default, bool):
        yield f"Left empty: {text_of(default)}."
    elif isinstance(column, Quantity | Count | Points) and default is not NOTHING:
        yield "May be left empty."


def _value(column: Checked, typed: Any) -> Any:
    """Return what an entry means, None where it was left empty."""
    match column:
        case Flag():
            return bool(typed)
        case Words():
            return list(typed) or None
        case Points():
            lines = [line for line in typed.splitlines() if line.strip()]
            return [[number_of(one) for one in _BETWEEN.split(line.strip())] for line in lines] or None
        case Numbers():
            return [number_of(one) for one in _BETWEEN.split(typed.strip()) if one] or None
        case Choice():
            return typed or None
    return number_of(typed) if typed.strip() else None


def _text(column: Checked, value: Any) -> Any:
    """Return what an entry holds for a value."""
    if value is None or value is NOTHING:
        return ""
    match column:
        case Flag() | Words() | Choice():
            return value
        case Points():
            return "\n".join(" ".join(text_of(one) for one in pair) for pair in value)
        case Numbers():
            return " ".join(text_of(one) for one in value)
    return text_of(value)


def _words(one: Refusal) -> str:
    """Return why a value is refused, without the name of its field."""
    if one.value is NOTHING and one.reason == "is missing":
        return f"Nothing is entered; accepted: {one.accepted}."
    told = f"{show(one.value)} {one.reason}".strip()
    return printable(f"{told}; accepted: {one.accepted}." if one.accepted else f"{told}.")
