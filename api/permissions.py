"""The interface's only permission class: it asks the table of rules by the route's name."""

from __future__ import annotations

from typing import Any

from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request


class ByRule(BasePermission):
    """Let pass what the rules let pass; 401 for guests and 403 for accounts follow from the answer no."""

    def has_permission(self, request: Request, view: Any) -> bool:
        if not hasattr(view, (request.method or "").lower()):
            return True  # for the answer that there is no such method here
        return request.method in SAFE_METHODS or bool(request.user.is_authenticated)
