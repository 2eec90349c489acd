"""Sources and a maker that every catalogue has, an empty one too: what own parts name when nobody else can be named.

Catalogue files need not list them, pruning leaves them, and they are exported only where a public part rests on them.
"""

from __future__ import annotations

from typing import Any

from django.apps import apps as installed
from django.db import DEFAULT_DB_ALIAS

ESTIMATE, MEASURE = "own-estimate", "own-measure"
OWN_MAKER = "Own"

# By kind of file and by code: what its block says.
BUILT_IN: dict[str, dict[str, dict[str, Any]]] = {
    "sources": {
        ESTIMATE: {
            "kind": "estimated",
            "bench": "",
            "date": None,
            "note": "What the owner of a part reckons, by rule of thumb or by what looks alike.",
        },
        MEASURE: {
            "kind": "measured",
            "bench": "tape measure",
            "date": None,
            "note": "What the owner of a part measured at home, with a tape measure, scales or a meter.",
        },
    },
    "makers": {"own": {"name": OWN_MAKER, "note": "Made by its owner, or by somebody whom no file names."}},
}
_MODELS = {"sources": "Source", "makers": "Maker"}


def is_built_in(kind: str, code: str) -> bool:
    """Return whether a source or maker is one that nobody can change or remove."""
    return code in BUILT_IN.get(kind, {})


def make_built_in(using: str = DEFAULT_DB_ALIAS, apps: Any = installed, **signal: Any) -> None:
    """Write them, after every migration: an emptied database gets them again."""
    for kind, name in _MODELS.items():
        try:
            model = apps.get_model("catalog", name)
        except LookupError:
            return  # migrated back to before there was a catalogue
        for code, says in BUILT_IN[kind].items():
            model._default_manager.using(using).update_or_create(code=code, defaults=says)
