"""What people do with their accounts: sign up, and give tokens to their programs."""

from __future__ import annotations

import base64
import hashlib
import re
import secrets
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from django.contrib.auth import get_user_model
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from advisor.models.accounts import PREFIX_LENGTH, TAG_LENGTH, ApiToken, Handle

if TYPE_CHECKING:
    from django.contrib.auth.models import User

SHORTEST_PASSWORD, LONGEST_PASSWORD = 8, 128
SHORTEST_NAME, LONGEST_NAME = 3, 60
FORM_OF_NAME = re.compile("[a-z0-9][a-z0-9._-]*[a-z0-9]")
ACCEPTED_NAME = (
    f"{SHORTEST_NAME} to {LONGEST_NAME} small letters, digits, dots, dashes or underscores, "
    "beginning and ending with a letter or digit"
)
ACCEPTED_PASSWORD = (
    f"{SHORTEST_PASSWORD} to {LONGEST_PASSWORD} characters, neither a common password nor much like the username"
)

TOKEN_BYTES = 32
MOST_DAYS, USUAL_DAYS = 365, 90
MOST_TOKENS = 20
# How often the use of a token is written down: a write for each request would keep others waiting on SQLite.
USE_STEP = timedelta(hours=1)


class NameTaken(Exception):
    """Somebody else has this name."""


class WeakPassword(Exception):
    """The password is too easy to guess; the arguments are sentences that say why."""


class TooManyTokens(Exception):
    """The person has as many tokens as one may have."""


def sign_up(*, username: str, password: str, now: datetime) -> User:
    """Open an account with its handle."""
    user = get_user_model()(username=username, date_joined=now)
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise WeakPassword(*error.messages) from None
    user.set_password(password)
    try:
        with transaction.atomic():
            user.save(force_insert=True)
            tag_of(user)
    except IntegrityError:
        raise NameTaken(username) from None
    return user


def tag_of(user: User) -> str:
    """Return the tag of a person's handle, which is made when it is first asked for."""
    found, _ = Handle.objects.get_or_create(user=user, defaults={"tag": _random_tag()})
    return found.tag


def issue_token(*, owner: User, name: str, expires_at: datetime, now: datetime) -> tuple[ApiToken, str]:
    """Return a new token of a person, and its text, which nobody can find out again."""
    if ApiToken.objects.owned_by(owner).count() >= MOST_TOKENS:
        raise TooManyTokens(MOST_TOKENS)
    text = secrets.token_urlsafe(TOKEN_BYTES)
    token = ApiToken.objects.create(
        owner=owner,
        name=name,
        digest=_digest(text),
        prefix=text[:PREFIX_LENGTH],
        created_at=now,
        expires_at=expires_at,
    )
    return token, text


def working_token(text: str, now: datetime) -> ApiToken | None:
    """Return the token of this text with its owner, if it still works, and note its use.

    Digests are looked up, not texts, so that the time it takes tells nothing about a token.
    """
    token = ApiToken.objects.with_digest(_digest(text)).working(now).first()
    if token is not None and (token.last_used_at is None or now - token.last_used_at >= USE_STEP):
        token.last_used_at = now
        token.save(update_fields=["last_used_at"])
    return token


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _random_tag() -> str:
    return base64.b32encode(secrets.token_bytes(TAG_LENGTH * 5 // 8)).decode().lower()
