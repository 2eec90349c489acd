"""Versions of what is read: entity tags, and requests on the condition of one (RFC 9110, section 13)."""

from __future__ import annotations

import hashlib
import re

from rest_framework.request import Request

from advisor.brief.values import missing, problem
from api.errors import MatchNeeded, Stale, Unreadable

# As the description says it, for clients: what we give out is plainer than what the standard allows.
TAGS = r'^(\*|(W/)?"[!#-~]*"( *, *(W/)?"[!#-~]*")*)$'
_LIST = re.compile(r'\s*(?:W/)?"[\x21\x23-\x7e\x80-\xff]*"(?:\s*,\s*(?:W/)?"[\x21\x23-\x7e\x80-\xff]*")*\s*')
_ONE = re.compile(r'(?:W/)?"[\x21\x23-\x7e\x80-\xff]*"')
_ACCEPTED = "the ETag of an earlier answer, in its quotes, or *"


def etag_of(*parts: str | bytes) -> str:
    """Return a strong entity tag: equal for equal parts only.

    >>> etag_of("a", "bc") == etag_of("a", b"bc"), etag_of("a", "bc") == etag_of("ab", "c")
    (True, False)
    """
    digest = hashlib.sha256()
    for part in parts:
        content = part.encode() if isinstance(part, str) else part
        digest.update(len(content).to_bytes(8, "big") + content)
    return f'"{digest.hexdigest()[:40]}"'


def check_conditions(request: Request) -> None:
    """Raise where a condition of the request cannot be read."""
    for name in ("If-None-Match", "If-Match"):
        _tags(request, name)


def is_unchanged(request: Request, etag: str) -> bool:
    """Tell whether the client has this version already, by its If-None-Match header."""
    known = _tags(request, "If-None-Match")
    # Weakly compared, as the standard says: a proxy that packs answers marks their tags so.
    return "*" in known or etag in [tag.removeprefix("W/") for tag in known]


def require_match(request: Request, etag: str) -> None:
    """Raise unless the request names this version in its If-Match header: 428 without one, 412 for another."""
    known = _tags(request, "If-Match")
    if not known:
        raise MatchNeeded(
            "Say which version you change: read it, then send its ETag as If-Match.", [missing("If-Match", _ACCEPTED)]
        )
    if "*" not in known and etag not in known:
        other = problem("If-Match", ", ".join(known), "is another version", f"{etag}, the ETag now")
        raise Stale("It has changed since you read it; read it again and repeat your change.", [other])


def _tags(request: Request, name: str) -> list[str]:
    if name not in request.headers:
        return []
    value = request.headers[name].strip()
    if value == "*":
        return [value]
    if not _LIST.fullmatch(value):
        raise Unreadable(f"The header {name} cannot be read.", [problem(name, value, "is no list of tags", _ACCEPTED)])
    return _ONE.findall(value)
