"""What happens to a brief that somebody sends, by the interface or a page alike: read, checked, counted, submitted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from advisor.allowance import check_unfinished
from advisor.assembly import catalogue
from advisor.assembly.known import known_parts
from advisor.brief import BriefReading, Problem, read_brief
from advisor.brief.contradictions import KnownParts
from advisor.submit import SubmitRefused, submit_study

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from advisor.models import Study


class BriefRefused(Exception):
    """A brief that is not taken; ``problems`` are all reasons that were found."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(" ".join(one.message for one in self.problems))


def send_brief(
    given: object, *, owner: User | None, guest: str, now: datetime, idempotency_key: str | None = None
) -> Study:
    """Return the study of a brief, as ``submit.submit_study`` describes it.

    Parameters
    ----------
    given : object
        The brief as it was sent: field names to values.
    owner, guest, now, idempotency_key
        As for ``submit_study``.

    Raises
    ------
    BriefRefused
        With everything that is wrong with the brief.
    TooManyUnfinished
        When the sender has as many unfinished studies as one may have.
    """
    _read(given)  # before the catalogue is read, which is work
    parts = catalogue(owner)
    reading = _read(given, known_parts(parts))
    sender = {"owner": owner, "guest": guest, "idempotency_key": idempotency_key}
    check_unfinished(**sender)
    try:
        return submit_study(
            brief=reading.brief, given=given, warnings=reading.warnings, now=now, catalogue=parts, **sender
        )
    except SubmitRefused as refused:
        raise BriefRefused([refused.problem]) from None


def _read(given: object, parts: KnownParts | None = None) -> BriefReading:
    reading = read_brief(given, parts)
    if reading.brief is None:
        raise BriefRefused(reading.problems)
    return reading
