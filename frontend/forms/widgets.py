"""Entries that Django has none for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms

PARTS_LIST = "parts"  # id of the page's list of part codes to pick from
_LEAST_ENTRIES, _SPARE_ENTRIES, _MOST_ENTRIES = 3, 2, 52


class Several(forms.CheckboxSelectMultiple):
    """Boxes to tick; an empty entry goes along, so that none ticked differs from not asked."""

    template_name = "frontend/widgets/several.html"

    def value_from_datadict(self, data: Any, files: Any, name: str) -> list[str] | None:
        return [one for one in data.getlist(name) if one] if name in data else None


class Codes(forms.Widget):
    """One entry a part code, with some to spare; each picks from the page's list of parts."""

    template_name = "frontend/widgets/codes.html"
    use_fieldset = True

    def id_for_label(self, id_: str) -> str:
        return ""

    def value_from_datadict(self, data: Any, files: Any, name: str) -> list[str]:
        return data.getlist(name)

    def value_omitted_from_data(self, data: Any, files: Any, name: str) -> bool:
        return name not in data

    def get_context(self, name: str, value: Any, attrs: Mapping[str, Any] | None) -> dict[str, Any]:
        context = super().get_context(name, None, attrs)
        filled = [one for one in value or [] if one.strip()][:_MOST_ENTRIES]
        spare = max(_LEAST_ENTRIES - len(filled), _SPARE_ENTRIES)
        context["widget"] |= {
            "entries": [*filled, *[""] * spare],
            "list": PARTS_LIST,
            "invalid": "aria-invalid" in (attrs or {}),
        }
        return context
