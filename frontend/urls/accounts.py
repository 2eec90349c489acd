"""The addresses of accounts."""

from __future__ import annotations

from django.urls import path

from frontend.views import accounts

urlpatterns = [
    path("sign-in/", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-up/", accounts.SignUp.as_view(), name="sign-up"),
    path("sign-out/", accounts.SignOut.as_view(), name="sign-out"),
    path("account/", accounts.Account.as_view(), name="account"),
    path("account/tokens/<str:prefix>/delete/", accounts.TokenDelete.as_view(), name="token-delete"),
]
