"""Accounts, sessions and tokens: what is sent and what is answered."""

from __future__ import annotations

from django.core.validators import RegexValidator
from rest_framework import serializers

from advisor.access.roles import Role
from advisor.accounts import (
    ACCEPTED_NAME,
    ACCEPTED_PASSWORD,
    FORM_OF_NAME,
    LONGEST_NAME,
    LONGEST_PASSWORD,
    MOST_DAYS,
    SHORTEST_NAME,
    SHORTEST_PASSWORD,
    USUAL_DAYS,
)
from advisor.models import ApiToken
from advisor.models.accounts import LONGEST_TOKEN_NAME
from api.serializers.bodies import Body, Text, Whole

_FORM_OF_NAME = RegexValidator(f"^{FORM_OF_NAME.pattern}$", "has another form")


class SignUpBody(Body):
    """A new account."""

    username = Text(
        accepted=ACCEPTED_NAME,
        min_length=SHORTEST_NAME,
        max_length=LONGEST_NAME,
        validators=[_FORM_OF_NAME],
        help_text=f"Name to sign in with: {ACCEPTED_NAME}.",
    )
    password = Text(
        accepted=ACCEPTED_PASSWORD,
        secret=True,
        min_length=SHORTEST_PASSWORD,
        max_length=LONGEST_PASSWORD,
        help_text=f"Password: {ACCEPTED_PASSWORD}.",
    )


class SignInBody(Body):
    """Who signs in. Any text is taken, so that the form of an answer tells nothing about accounts."""

    username = Text(accepted="the name of an account", max_length=150, help_text="Name of the account.")
    password = Text(accepted="its password", secret=True, max_length=1024, help_text="Its password.")


class AccountAnswer(serializers.Serializer):
    """The account that asks."""

    username = serializers.CharField(help_text="Name of the account.")
    role = serializers.ChoiceField(
        choices=[role.name.lower() for role in Role if role is not Role.GUEST],
        help_text="What the account may do; each role may do what those before it in the list may.",
    )
    own_prefix = serializers.CharField(help_text="How the codes of the account's own parts begin.")
    joined_at = serializers.DateTimeField(help_text="When it was opened (UTC).")


class TokenBody(Body):
    """A new token."""

    name = Text(
        accepted=f"a text of 1 to {LONGEST_TOKEN_NAME} characters",
        max_length=LONGEST_TOKEN_NAME,
        help_text="What the token is for, in your words.",
    )
    expires_in_days = Whole(
        accepted=f"a whole number from 1 to {MOST_DAYS} days",
        default=USUAL_DAYS,
        min_value=1,
        max_value=MOST_DAYS,
        help_text="Days until it stops working. A token that makes a token lends it at most its own time.",
    )


class TokenAnswer(serializers.ModelSerializer):
    """A token, but for its text."""

    url = serializers.HyperlinkedIdentityField("api:token-detail", lookup_field="prefix", help_text="Its address.")

    class Meta:
        model = ApiToken
        fields = ["url", "prefix", "name", "created_at", "expires_at", "last_used_at"]
        read_only_fields = fields


class NewTokenAnswer(TokenAnswer):
    """A token just made: the only answer that has its text."""

    token = serializers.CharField(source="text", help_text="The token itself. It is shown this once; keep it safe.")

    class Meta(TokenAnswer.Meta):
        fields = [*TokenAnswer.Meta.fields, "token"]
        read_only_fields = fields
