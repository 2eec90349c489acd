"""Every address of the REST interface, below /api/v1/."""

from __future__ import annotations

from django.urls import path

from api.views.accounts import Accounts, Me
from api.views.catalogue import catalogue_addresses
from api.views.own_enclosures import OwnEnclosurePreview, OwnEnclosures
from api.views.root import Root
from api.views.schema import Schema
from api.views.session import Session
from api.views.studies import OneStudy, Studies, StudyCancel, StudyFront
from api.views.tokens import Token, Tokens

app_name = "api"

urlpatterns = [
    path("", Root.as_view(), name="root"),
    path("schema/", Schema.as_view(), name="schema"),
    path("studies/", Studies.as_view(), name="study-list"),
    path("studies/<uuid:id>/", OneStudy.as_view(), name="study-detail"),
    path("studies/<uuid:id>/front/", StudyFront.as_view(), name="study-front"),
    path("studies/<uuid:id>/cancel/", StudyCancel.as_view(), name="study-cancel"),
    path("own-enclosures/", OwnEnclosures.as_view(), name="own-enclosure-list"),
    path("own-enclosures/preview/", OwnEnclosurePreview.as_view(), name="own-enclosure-preview"),
    path("accounts/", Accounts.as_view(), name="account-list"),
    path("accounts/me/", Me.as_view(), name="account-me"),
    path("session/", Session.as_view(), name="session"),
    path("tokens/", Tokens.as_view(), name="token-list"),
    path("tokens/<str:prefix>/", Token.as_view(), name="token-detail"),
    *catalogue_addresses(),
]
