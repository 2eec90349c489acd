"""By what word a study can be sent again."""

from __future__ import annotations

import re

from rest_framework.request import Request

from advisor.brief.values import problem
from api.errors import Unreadable

LONGEST_KEY = 200
_KEY = re.compile(rf"[!-~]{{1,{LONGEST_KEY}}}")
_ACCEPTED = f"1 to {LONGEST_KEY} printable ASCII characters without spaces, such as a random UUID"


def idempotency_key(request: Request) -> str | None:
    """Return the word that the request gives its study, if it gives one."""
    key = request.headers.get("Idempotency-Key")
    if key is not None and not _KEY.fullmatch(key):
        refused = problem("Idempotency-Key", key, "is no such word", _ACCEPTED)
        raise Unreadable("The header Idempotency-Key cannot be taken.", [refused])
    return key
