"""How often a person, or for guests an address, may ask: the framework's hook to ``advisor.rates``."""

from __future__ import annotations

from typing import Any

from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from advisor.rates import seconds_to_wait


class RateLimit(BaseThrottle):
    """Refuse what is beyond the rate of its scope; the view's ``scope(method)`` names it."""

    def allow_request(self, request: Request, view: Any) -> bool:
        self.seconds = seconds_to_wait(view.scope(request.method), request)
        return self.seconds == 0

    def wait(self) -> int:
        """Return the seconds after which it is worth trying again."""
        return self.seconds
