"""The gate before every view: no address without a rule, and none that a person's role does not reach.

Addresses of the REST interface pass here if they have a rule at all: who asks is known only after the interface has
read the token, so its permission class asks the same table then. Static files never come this far.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseNotAllowed
from django.urls import reverse

from advisor.access.rules import RULES, allowed, least_role

_ASKED_LATER = "api:"


class Gate:
    """Middleware; stands after the one that knows the session's person."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view: Any, args: Any, kwargs: Any) -> HttpResponse | None:
        assert request.resolver_match is not None
        route, method = request.resolver_match.view_name, request.method or ""
        if route not in RULES:
            raise PermissionDenied(f"'{route}' has no rule in advisor/access/rules.py")
        if route.startswith(_ASKED_LATER):
            return None
        if least_role(route, method) is None:
            return HttpResponseNotAllowed(RULES[route])
        if allowed(route, method, request.user):
            return None
        if request.user.is_authenticated or method != "GET":
            raise PermissionDenied("this needs another role")
        entrance = "admin:login" if route.startswith("admin:") else "pages:sign-in"
        return redirect_to_login(request.get_full_path(), reverse(entrance))
