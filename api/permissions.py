"""The interface's only permission class: it asks the table of rules by the route's name."""

from __future__ import annotations

from typing import Any

from rest_framework.permissions import BasePermission
from rest_framework.request import Request

from advisor.access.rules import allowed


class ByRule(BasePermission):
    """Let pass what the rules let pass; 401 for guests and 403 for accounts follow from the answer no."""

    def has_permission(self, request: Request, view: Any) -> bool:
        if not hasattr(view, (request.method or "").lower()):
            return True  # for the answer that there is no such method here
        return allowed(request.resolver_match.view_name, request.method, request.user)
