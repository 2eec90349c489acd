"""What belongs to an account beside its name and password: the tokens of its programs, and its handle."""

from __future__ import annotations

from django.conf import settings
from django.core.validators import RegexValidator
from django.db import models

from advisor.models.outcomes import HASH_LENGTH
from advisor.querysets.accounts import ApiTokenQuerySet

PREFIX_LENGTH = 8
TAG_LENGTH = 8
LONGEST_TOKEN_NAME = 60


class ApiToken(models.Model):
    """A secret by which a program acts for its owner. Only its digest is kept."""

    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.CASCADE, related_name="api_tokens", help_text="For whom it acts."
    )
    name = models.CharField(max_length=LONGEST_TOKEN_NAME, help_text="What it is for, in its owner's words.")
    digest = models.CharField(max_length=HASH_LENGTH, unique=True, help_text="SHA-256 of the token.")
    prefix = models.CharField(max_length=PREFIX_LENGTH, unique=True, help_text="Its first characters, to tell it by.")
    created_at = models.DateTimeField(help_text="When it was given out.")
    expires_at = models.DateTimeField(help_text="When it stops working.")
    last_used_at = models.DateTimeField(null=True, blank=True, help_text="When it was last used, to the hour.")

    objects = ApiTokenQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "prefix"]
        verbose_name = "API token"
        indexes = [
            # a person's own list, newest first
            models.Index(fields=["owner", "-created_at", "prefix"], name="api_token_of_owner"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(expires_at__gt=models.F("created_at")), name="api_token_expires_after_it_begins"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.prefix}…)"


class Handle(models.Model):
    """The word that begins the codes of a person's own parts, so that two people may use the same names."""

    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.CASCADE, primary_key=True, related_name="handle", help_text="Whose it is."
    )
    tag = models.CharField(
        max_length=TAG_LENGTH,
        unique=True,
        validators=[RegexValidator(rf"^[a-z2-7]{{{TAG_LENGTH}}}$")],
        help_text="Random letters and digits.",
    )

    def __str__(self) -> str:
        return self.tag
