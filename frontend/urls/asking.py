"""The addresses of briefs and studies, and of the pages around them."""

from __future__ import annotations

from django.urls import path

from frontend.views import briefs, builds, home, studies

urlpatterns = [
    path("", home.Home.as_view(), name="home"),
    path("method/", home.Method.as_view(), name="method"),
    path("brief/", briefs.Brief.as_view(), name="brief"),
    path("studies/", studies.StudyList.as_view(), name="study-list"),
    path("studies/<uuid:id>/", studies.StudyDetail.as_view(), name="study"),
    path("studies/<uuid:id>/progress/", studies.StudyProgress.as_view(), name="study-progress"),
    path("studies/<uuid:id>/cancel/", studies.StudyCancel.as_view(), name="study-cancel"),
    path("studies/<uuid:id>/builds/<str:build>/", builds.BuildDetail.as_view(), name="build"),
]
