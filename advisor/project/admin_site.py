"""The site of the admin pages: open to whom the rules let in, whatever is ticked at the account."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.admin import AdminSite
from django.contrib.admin.forms import AdminAuthenticationForm
from django.contrib.auth.forms import AuthenticationForm
from django.http import HttpRequest, HttpResponse

from advisor.access.rules import allowed
from api.throttling import RateLimit

_ENTRANCE = ("admin:index", "GET")


class SignInForm(AdminAuthenticationForm):
    """Sign in as somebody who may enter."""

    def confirm_login_allowed(self, user: Any) -> None:
        AuthenticationForm.confirm_login_allowed(self, user)
        if not allowed(*_ENTRANCE, user):
            raise forms.ValidationError("These pages are for curators, and this account is none.", code="no_curator")


class _SigningIn:
    """What the interface counts attempts to sign in by: here and there, they count together."""

    @staticmethod
    def scope(method: str | None) -> str:
        return "sign_in"


class AdminPages(AdminSite):
    """The admin pages."""

    site_header = site_title = "Baywind"
    index_title = "The catalogue and its keepers"
    login_form = SignInForm
    site_url = None

    def has_permission(self, request: HttpRequest) -> bool:
        return allowed(*_ENTRANCE, request.user)

    def login(self, request: HttpRequest, extra_context: dict[str, Any] | None = None) -> HttpResponse:
        rate = RateLimit()
        if request.method == "POST" and not rate.allow_request(request, _SigningIn):
            words = f"Too many attempts to sign in: try again in {rate.wait()} seconds."
            return HttpResponse(words, "text/plain", 429, headers={"Retry-After": str(rate.wait())})
        return super().login(request, extra_context)
