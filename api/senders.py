"""Who sends a study, where nobody signed in, and by what word it can be sent again."""

from __future__ import annotations

import re

from django.utils.crypto import salted_hmac
from rest_framework.request import Request

from advisor.brief.values import problem
from api.errors import Unreadable
from api.throttling import client_address

LONGEST_KEY = 200
_KEY = re.compile(rf"[!-~]{{1,{LONGEST_KEY}}}")
_ACCEPTED = f"1 to {LONGEST_KEY} printable ASCII characters without spaces, such as a random UUID"


def guest_digest(request: Request) -> str:
    """Return by what a guest is told from others; the address itself is not kept."""
    return salted_hmac("api.senders", client_address(request), algorithm="sha256").hexdigest()


def idempotency_key(request: Request) -> str | None:
    """Return the word that the request gives its study, if it gives one."""
    key = request.headers.get("Idempotency-Key")
    if key is not None and not _KEY.fullmatch(key):
        refused = problem("Idempotency-Key", key, "is no such word", _ACCEPTED)
        raise Unreadable("The header Idempotency-Key cannot be taken.", [refused])
    return key
