"""Signing in, signing up, and tokens for programs."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm

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
from advisor.brief.values import is_unprintable
from advisor.models.accounts import LONGEST_TOKEN_NAME

_NAME = {"autocomplete": "username", "autocapitalize": "none", "spellcheck": "false"}
_EMPTY = {"required": "Nothing is entered."}


class SignInForm(AuthenticationForm):
    """Name and password; which of the two is wrong is not told."""

    error_messages = AuthenticationForm.error_messages | {
        "invalid_login": "No account has this name and this password. Check both, or open an account first.",
    }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["username"].label = "Name"
        self.fields["username"].widget.attrs |= _NAME
        for field in self.fields.values():
            field.error_messages |= _EMPTY
            field.widget.attrs.pop("autofocus", None)


class SignUpForm(forms.Form):
    """A new account."""

    username = forms.CharField(
        label="Name",
        help_text=f"{ACCEPTED_NAME[0].upper()}{ACCEPTED_NAME[1:]}.",
        error_messages=_EMPTY,
        widget=forms.TextInput(_NAME),
    )
    password = forms.CharField(
        label="Password",
        help_text=f"{ACCEPTED_PASSWORD[0].upper()}{ACCEPTED_PASSWORD[1:]}.",
        strip=False,
        error_messages=_EMPTY,
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
    )

    def clean_username(self) -> str:
        name = self.cleaned_data["username"]
        if not (SHORTEST_NAME <= len(name) <= LONGEST_NAME and FORM_OF_NAME.fullmatch(name)):
            raise forms.ValidationError(f"This name cannot be taken; accepted: {ACCEPTED_NAME}.")
        return name

    def clean_password(self) -> str:
        password = self.cleaned_data["password"]
        if not SHORTEST_PASSWORD <= len(password) <= LONGEST_PASSWORD or is_unprintable(password):
            found = (
                f"It has {len(password)} characters" if not is_unprintable(password) else "It has control characters"
            )
            raise forms.ValidationError(f"{found}; accepted: {ACCEPTED_PASSWORD}.")
        return password


class TokenForm(forms.Form):
    """A new token."""

    name = forms.CharField(
        label="What it is for",
        help_text=f"In your words, to tell it by: up to {LONGEST_TOKEN_NAME} characters.",
        error_messages=_EMPTY,
        widget=forms.TextInput({"autocomplete": "off"}),
    )
    days = forms.CharField(
        label="Days until it stops working",
        help_text=f"1 to {MOST_DAYS}.",
        initial=str(USUAL_DAYS),
        error_messages=_EMPTY,
        widget=forms.TextInput({"class": "short", "inputmode": "numeric", "autocomplete": "off"}),
    )

    def clean_name(self) -> str:
        name = self.cleaned_data["name"]
        if len(name) > LONGEST_TOKEN_NAME or is_unprintable(name):
            raise forms.ValidationError(
                f"This name cannot be taken; accepted: up to {LONGEST_TOKEN_NAME} characters, no control characters."
            )
        return name

    def clean_days(self) -> int:
        text = self.cleaned_data["days"]
        if not (text.isascii() and text.isdecimal() and len(text) <= 4 and 1 <= int(text) <= MOST_DAYS):
            raise forms.ValidationError(f"This is no such number; accepted: a whole number from 1 to {MOST_DAYS}.")
        return int(text)
