"""Where every figure of a part comes from, in one table."""

from __future__ import annotations

from typing import Any

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from catalog.models import Part
from catalog.provenance import Figure, figures

_HEAD = ("Figure", "Value", "Unit", "One standard uncertainty", "How it came about", "Source")


def provenance_table(part: Part) -> SafeString:
    """Return every figure of a part, with its source and how sure it is, as a table to read."""
    head = format_html_join("", '<th scope="col">{}</th>', ((words,) for words in _HEAD))
    rows = format_html_join(
        "",
        '<tr><th scope="row">{}</th><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>',
        ((f.name, _shown(f.value), f.unit or "-", _sure(f), f.source_kind, f.source) for f in figures(part)),
    )
    return format_html("<table><thead><tr>{}</tr></thead><tbody>{}</tbody></table>", head, rows)


def _shown(value: Any) -> str:
    match value:
        case dict():
            return "; ".join(f"{key} {_shown(item)}" for key, item in value.items())
        case [[_, _], *_]:
            return ", ".join(f"{x:g} / {y:g}" for x, y in value)
        case list():
            return ", ".join(_shown(item) for item in value) or "-"
        case float():
            return f"{value:g}"
        case None | "":
            return "-"
    return str(value)


def _sure(figure: Figure) -> str:
    """Return an uncertainty in words, and whether somebody stated it or the kind of source says it."""
    size, unit = figure.standard_uncertainty, figure.unit
    if size == 0:
        return "exact"
    words = f"± {size * 100:.3g} %" if figure.relative else f"± {size:.3g} {unit}".rstrip()
    return f"{words}, {'stated' if figure.stated else 'usual for its kind'}"
