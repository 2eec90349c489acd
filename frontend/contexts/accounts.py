"""One's own account on a page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from advisor.access.roles import role_of
from advisor.accounts import tag_of
from advisor.models import ApiToken
from catalog.ownership import PREFIX
from frontend.contexts.studies import moment

if TYPE_CHECKING:
    from django.contrib.auth.models import User


@dataclass(frozen=True, slots=True)
class TokenLine:
    """A token, but for its text."""

    prefix: str
    name: str
    made: str
    expires: str
    used: str
    works: bool


@dataclass(frozen=True, slots=True)
class AccountPage:
    """Who somebody is here; ``new_token`` is the text of a token made just now, which no other page has."""

    username: str
    role: str
    own_prefix: str
    joined: str
    tokens: tuple[TokenLine, ...]
    new_token: str


def account_page(user: User, tokens: Iterable[ApiToken], now: datetime, new_token: str = "") -> AccountPage:
    """Return a person's account."""
    return AccountPage(
        user.get_username(),
        role_of(user).name.lower(),
        f"{PREFIX}{tag_of(user)}-",
        moment(user.date_joined),
        tuple(_line(token, now) for token in tokens),
        new_token,
    )


def _line(token: ApiToken, now: datetime) -> TokenLine:
    used = moment(token.last_used_at) if token.last_used_at else "never"
    return TokenLine(
        token.prefix, token.name, moment(token.created_at), moment(token.expires_at), used, token.expires_at > now
    )
