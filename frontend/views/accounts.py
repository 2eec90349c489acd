"""Signing in, up and out; one's own account and tokens."""

from __future__ import annotations

from datetime import timedelta
from http import HTTPStatus
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth import login, logout
from django.contrib.auth.views import LoginView, RedirectURLMixin
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.decorators import method_decorator
from django.views import View
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.generic.edit import FormView

from advisor.access.objects import tokens_of
from advisor.accounts import NameTaken, TooManyTokens, WeakPassword, issue_token, sign_up
from advisor.rates import seconds_to_wait
from frontend.contexts.accounts import account_page
from frontend.forms.accounts import SignInForm, SignUpForm, TokenForm


class Counted:
    """Attempts count under a rate: what is beyond it is answered with the form, and when to try again."""

    rate = ""

    def post(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        wait = seconds_to_wait(self.rate, request)
        if not wait:
            return super().post(request, *args, **kwargs)
        # The password is not looked at, so the form may only say that it is too early.
        form = self.get_form_class()(initial=request.POST.dict())
        context = self.get_context_data(form=form) | {"wait": wait}
        response = self.render_to_response(context, status=HTTPStatus.TOO_MANY_REQUESTS)
        response.headers["Retry-After"] = str(wait)
        return response

    def form_invalid(self, form: forms.Form) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form))


class SignIn(Counted, LoginView):
    """Begin a session."""

    template_name = "frontend/sign_in.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True
    next_page = "pages:home"
    rate = "sign_in"


@method_decorator([sensitive_post_parameters("password"), never_cache], name="dispatch")
class SignUp(Counted, RedirectURLMixin, FormView):
    """Open an account."""

    template_name = "frontend/sign_up.html"
    form_class = SignUpForm
    next_page = "pages:home"
    rate = "sign_up"

    def get_context_data(self, **context: Any) -> dict[str, Any]:
        return super().get_context_data(**context) | {"next": self.get_redirect_url()}

    def form_valid(self, form: SignUpForm) -> HttpResponse:
        try:
            user = sign_up(**form.cleaned_data, now=timezone.now())
        except NameTaken:
            form.add_error("username", "Somebody has this name; choose another.")
            return self.form_invalid(form)
        except WeakPassword as weak:
            form.add_error("password", f"This is easy to guess. {' '.join(weak.args)} Choose another.")
            return self.form_invalid(form)
        login(self.request, user)
        messages.success(self.request, f"Welcome, {user.get_username()}: your account is open.")
        return HttpResponseRedirect(self.get_success_url())


class SignOut(View):
    """End a session."""

    def post(self, request: HttpRequest) -> HttpResponse:
        logout(request)
        messages.success(request, "You are signed out.")
        return HttpResponseRedirect(reverse("pages:home"))


@method_decorator(never_cache, name="dispatch")
class Account(View):
    """One's own account, and tokens for programs."""

    def get(self, request: HttpRequest) -> HttpResponse:
        return _account(request, TokenForm())

    def post(self, request: HttpRequest) -> HttpResponse:
        form, now = TokenForm(request.POST), timezone.now()
        if not form.is_valid():
            return _account(request, form)
        expires_at = now + timedelta(days=form.cleaned_data["days"])
        try:
            _, text = issue_token(owner=request.user, name=form.cleaned_data["name"], expires_at=expires_at, now=now)
        except TooManyTokens as most:
            form.add_error(None, f"You have {most} tokens, and that is how many one may have. Delete one first.")
            return _account(request, form, status=HTTPStatus.CONFLICT)
        # Shown in this answer, and kept nowhere: a redirect would have to carry it along.
        return _account(request, TokenForm(), new_token=text)


class TokenDelete(View):
    """Make a token stop working, for good."""

    def post(self, request: HttpRequest, prefix: str) -> HttpResponse:
        token = tokens_of(request.user).named(prefix).first()
        if token is None:
            raise Http404
        token.delete()
        messages.success(request, f"The token {prefix}\u2026 works no longer.")
        return HttpResponseRedirect(reverse("pages:account"))


def _account(request: HttpRequest, form: TokenForm, *, status: int = 200, new_token: str = "") -> HttpResponse:
    page = account_page(request.user, tokens_of(request.user), timezone.now(), new_token)
    return render(request, "frontend/account.html", {"account": page, "form": form}, status=status)
