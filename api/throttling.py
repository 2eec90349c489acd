"""How often a person, or for guests an address, may ask: counted in windows of time, in the settings' ``RATES``."""

from __future__ import annotations

import ipaddress
import math
import time
from typing import Any

from django.conf import settings
from django.core.cache import cache
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

SECONDS = {"minute": 60, "hour": 3600, "day": 86400}


class RateLimit(BaseThrottle):
    """Refuse what is beyond the rate of its scope; the view's ``scope(method)`` names it.

    The count is that of this window and, as far as it still reaches back, of the one before, so that the end of a
    window is no moment at which twice as much passes.
    """

    def allow_request(self, request: Request, view: Any) -> bool:
        scope = view.scope(request.method)
        rates = settings.RATES[scope]
        rate = rates["member" if request.user.is_authenticated else "guest"]
        most, unit = rate.split("/")
        return self._count(f"{scope}:{person(request)}", int(most), SECONDS[unit])

    def wait(self) -> int:
        """Return the seconds after which it is worth trying again."""
        return self.seconds

    def _count(self, key: str, most: int, window: int) -> bool:
        number, elapsed = divmod(time.time(), window)
        now, before = f"rate:{key}:{int(number)}", f"rate:{key}:{int(number) - 1}"
        cache.add(now, 0, timeout=2 * window)
        earlier = cache.get(before, 0) * (1.0 - elapsed / window)
        if cache.get(now, 0) + earlier >= most:
            self.seconds = max(1, math.ceil(window - elapsed))
            return False
        cache.incr(now)
        return True


def person(request: Request) -> str:
    """Return who asks: an account, or the address of a guest."""
    return f"user-{request.user.pk}" if request.user.is_authenticated else f"address-{client_address(request)}"


def client_address(request: Request) -> str:
    """Return the client's network address, as told by the proxies that the settings trust.

    One home has 2^64 addresses of IPv6, so those count by their first half.
    """
    forwarded = [part.strip() for part in request.META.get("HTTP_X_FORWARDED_FOR", "").split(",")]
    told = forwarded[-settings.PROXIES :][0] if settings.PROXIES else request.META.get("REMOTE_ADDR", "")
    try:
        address = ipaddress.ip_address(told)
    except ValueError:
        return "unknown"
    if address.version == 6 and address.ipv4_mapped is None:
        return str(ipaddress.ip_network((address, 64), strict=False))
    return str(getattr(address, "ipv4_mapped", None) or address)
