"""How much one person may have going at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.conf import settings

from advisor.models import Study

if TYPE_CHECKING:
    from django.contrib.auth.models import User


class TooManyUnfinished(Exception):
    """The sender has as many unfinished studies as one may have; the argument says how many."""


def check_unfinished(*, owner: User | None, guest: str, idempotency_key: str | None) -> None:
    """Raise where a sender may not begin another study now. One sent before, by its key, begins nothing."""
    mine = Study.objects.of_sender(owner, guest)
    if idempotency_key and mine.sent_with(idempotency_key).exists():
        return
    most = settings.UNFINISHED_STUDIES["guest" if owner is None else "member"]
    if mine.unfinished().count() >= most:
        raise TooManyUnfinished(most)
