"""The form of an enclosure that is measured, made from the one table of its fields; the reader of entries checks it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django import forms

from advisor.brief.field import Field
from advisor.brief.values import Problem
from advisor.tape.fields import ONE_OF, PANEL, PARTS, WHOLE
from advisor.tape.geometry import FACES
from catalog.importing.refusals import Refusal, printable, show
from frontend.forms.entries import Entry, choice_entry, number_entry, several_entry, text_entry
from frontend.forms.tape_words import hint_of, label_of, named, usual_of, words_of
from frontend.forms.typed import number_of, text_of

VERSION = "version"
FIRST_ROWS = {"fans": 2, "bays": 1}
_ROW = re.compile(r"^(fans|bays)\[(\d+)\]\.(\w+)$")
_PANEL = re.compile(r"^panels\.(\w+)\.")
_COUNT = re.compile(r"\d{1,3}", re.ASCII)


class TapeForm(forms.Form):
    """An enclosure as people measure it: entries of every field, and as many rows of fans and bays as are asked for."""

    def __init__(self, *args: Any, rows: Mapping[str, int] | None = None, is_new: bool = True, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows = dict(rows or FIRST_ROWS) if not self.is_bound else self._sent_rows()
        self.filled_rows: dict[str, list[int]] = {}
        for field in WHOLE:
            if is_new or field.name != "code":
                self.fields[field.name] = _entry(field)
        for block, fields in self._blocks():
            for field in fields:
                self.fields[f"{block}-{field.name}"] = _entry(field)
        for key in PARTS:
            self.fields[_count_of(key)] = forms.Field(
                required=False, widget=forms.HiddenInput, initial=str(self.rows[key])
            )
        self.fields[VERSION] = forms.Field(required=False, widget=forms.HiddenInput)

    @classmethod
    def filled(cls, given: Mapping[str, Any], version: str = "") -> TapeForm:
        """Return a form that holds an entry, to look at and change."""
        rows = {key: max(least, len(given.get(key) or ())) for key, least in FIRST_ROWS.items()}
        return cls(initial={**texts_of(given), VERSION: version}, rows=rows, is_new=False)

    def with_row(self, key: str) -> TapeForm:
        """Return the form as it was sent with one more row of fans or bays."""
        data = self.data.copy()
        data[_count_of(key)] = str(min(self.rows[key] + 1, PARTS[key][1]))
        return TapeForm(data, is_new="code" in self.fields)

    def given(self) -> dict[str, Any]:
        """Return the entry that was typed, without what was left empty, as the REST interface would get it."""
        given = self._block("", WHOLE)
        panels = {face: self._block(f"panels-{face}-", PANEL) for face in FACES}
        given |= {"panels": {face: block for face, block in panels.items() if block}}
        for key, (fields, _) in PARTS.items():
            blocks = [(row, self._block(f"{key}-{row}-", fields)) for row in range(self.rows[key])]
            self.filled_rows[key] = [row for row, block in blocks if block]
            given[key] = [block for _, block in blocks if block]
        given |= {key: block for key, fields in ONE_OF.items() if (block := self._block(f"{key}-", fields))}
        return {key: value for key, value in given.items() if value not in ({}, [])}

    def tell(self, problems: Iterable[Problem]) -> None:
        """Put problems beside the entries that they are about."""
        for one in problems:
            words = one.message.removeprefix(f"{one.field}: ").replace(f"{one.field} is missing", "Nothing is entered")
            self.add_error(self._entry_of(one.field), f"{self._where(one.field)}{named(words)}")

    def tell_refused(self, refusals: Iterable[Refusal]) -> None:
        """Put what the catalogue refuses beside the entries that it is about."""
        for one in refusals:
            told = printable(f"{show(one.value)} {one.reason}; accepted: {one.accepted}.")
            self.add_error(one.field if one.field in self.fields else None, told)

    def entries(self, block: str, fields: Iterable[Field]) -> list[forms.BoundField]:
        """Return the entries of one block, such as ``panels-front`` or ``fans-0``; of the whole for an empty one."""
        names = [f"{block}-{field.name}" if block else field.name for field in fields]
        return [self[name] for name in names if name in self.fields]

    def _blocks(self) -> Iterator[tuple[str, tuple[Field, ...]]]:
        yield from ((f"panels-{face}", PANEL) for face in FACES)
        for key, (fields, _) in PARTS.items():
            yield from ((f"{key}-{row}", fields) for row in range(self.rows[key]))
        yield from ONE_OF.items()

    def _sent_rows(self) -> dict[str, int]:
        rows = {}
        for key, (_, most) in PARTS.items():
            sent = self.data.get(_count_of(key), "")
            rows[key] = min(int(sent), most) if _COUNT.fullmatch(sent) else FIRST_ROWS[key]
        return rows

    def _block(self, prefix: str, fields: Iterable[Field]) -> dict[str, Any]:
        typed = {field.name: _value(field, self._typed(prefix + field.name)) for field in fields}
        return {name: value for name, value in typed.items() if value is not None}

    def _typed(self, name: str) -> Any:
        entry = self.fields.get(name)
        return entry.widget.value_from_datadict(self.data, {}, name) if entry else None

    def _where(self, path: str) -> str:
        """Return in which panel or place a field is, since several are called alike."""
        row, panel = _ROW.match(path), _PANEL.match(path)
        if row:
            return f"{row[1].capitalize()}, place {self.filled_rows[row[1]][int(row[2])] + 1}: "
        return f"{panel[1].capitalize()}: " if panel else ""

    def _entry_of(self, path: str) -> str | None:
        row = _ROW.match(path)
        if row:
            places = self.filled_rows[row[1]]
            path = f"{row[1]}-{places[int(row[2])]}-{row[3]}"
        name = path.replace(".", "-")
        return name if name in self.fields else None


def texts_of(given: Mapping[str, Any]) -> dict[str, Any]:
    """Return what the form holds for an entry."""
    texts = dict(_texts("", WHOLE, given))
    for face, block in (given.get("panels") or {}).items():
        texts |= _texts(f"panels-{face}-", PANEL, block or {})
    for key, (fields, _) in PARTS.items():
        for row, block in enumerate(given.get(key) or ()):
            texts |= _texts(f"{key}-{row}-", fields, block)
    for key, fields in ONE_OF.items():
        texts |= _texts(f"{key}-", fields, given.get(key) or {})
    return texts


def _count_of(key: str) -> str:
    return f"{key}-count"


def _entry(field: Field) -> Entry:
    unit = field.unit.replace("cm2", "cm²")
    more = {"label": label_of(field), "help_text": hint_of(field)}
    match field.kind:
        case "number" | "integer":
            return number_entry(whole=field.kind == "integer", unit=unit, **more)
        case "choice" | "flag":
            return choice_entry(words_of(field), usual_of(field), **more)
        case "choices":
            return several_entry(words_of(field), **more)
    return text_entry(**more)


def _value(field: Field, typed: Any) -> Any:
    """Return what an entry means, None where it was left empty."""
    match field.kind:
        case "choices":
            return list(typed) if typed else None
        case "flag":
            return {"true": True, "false": False}.get(typed, typed or None)
        case "number" | "integer":
            return number_of(typed) if typed and typed.strip() else None
    return typed if typed and typed.strip() else None


def _texts(prefix: str, fields: Iterable[Field], block: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for field in fields:
        value = block.get(field.name)
        if value is not None:
            yield prefix + field.name, _text(field, value)


def _text(field: Field, value: Any) -> Any:
    if field.kind == "flag":
        return "true" if value else "false"
    if field.kind == "choices":
        return list(value)
    return text_of(value) if field.kind in ("number", "integer") else value
