"""What is wrong with a value, in the words of a page: labels for names of fields, words for codes of choices."""

from __future__ import annotations

import re
from typing import Any

from advisor.brief import Problem
from advisor.brief.fields import FIELD_OF

_NAMES = re.compile(r"\b(" + "|".join(name for name in FIELD_OF if "_" in name) + r")\b")
_COMMA = " Write a number without commas between thousands."


def plain_words(text: str) -> str:
    """Return a text with labels for the names of fields.

    >>> plain_words("Capacity; or give drive_count.")
    'Capacity; or give \u201cDrives\u201d.'
    """
    return _NAMES.sub(lambda found: f"\u201c{FIELD_OF[found[0]].label}\u201d", text)


def words(problem: Problem, typed: Any = None) -> str:
    """Return a problem as it stands beside its field, whose label it need not repeat; ``typed`` is what was typed.

    >>> from advisor.brief.values import problem
    >>> words(problem("graphics_airflow", "up", "is not known"))
    "'up' is not known; accepted: into the enclosure or out through its bracket."
    """
    field = FIELD_OF.get(problem.field)
    text, accepted = problem.message, problem.accepted
    if field and field.kind == "choice":
        *most, last = field.words.values()
        listed = f"{', '.join(most)} or {last}"
        text, accepted = text.replace(accepted, listed), listed
    nothing = "Nothing is chosen" if field and field.kind == "choice" else "Nothing is entered"
    text = text.removeprefix(f"{problem.field}: ").replace(f"{problem.field} is missing", nothing)
    comma = isinstance(typed, str) and "," in typed and "number" in accepted
    return plain_words(text) + (_COMMA if comma else "")
