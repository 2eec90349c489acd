"""The first page, and how everything is computed."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views import View

from frontend.contexts.home import home_page, scenarios


class Home(View):
    """What this is, and four ways into it."""

    def get(self, request: HttpRequest) -> HttpResponse:
        return render(request, "frontend/home.html", {"home": home_page(request.user)})


class Method(View):
    """What is computed and what is not, in plain words."""

    def get(self, request: HttpRequest) -> HttpResponse:
        return render(request, "frontend/method.html", {"scenarios": scenarios()})
