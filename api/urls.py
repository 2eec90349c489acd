"""Every address of the REST interface, below /api/v1/."""

from __future__ import annotations

from django.urls import path

from api.views.root import Root

app_name = "api"

urlpatterns = [
    path("", Root.as_view(), name="root"),
]
