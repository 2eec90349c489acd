"""How often a person, or for guests an address, may ask: counted in windows of time, in the settings' ``RATES``.

Pages, the REST interface and the admin pages count together.
"""

from __future__ import annotations

import ipaddress
import math
import time
from typing import Any

from django.conf import settings
from django.core.cache import cache
from django.utils.crypto import salted_hmac

SECONDS = {"minute": 60, "hour": 3600, "day": 86400}


def seconds_to_wait(scope: str, request: Any) -> int:
    """Count one request under a rate of the settings; return 0 where it may pass, else when to try again.

    The count is that of this window and, as far as it still reaches back, of the one before, so that the end of a
    window is no moment at which twice as much passes.
    """
    rate = settings.RATES[scope]["member" if request.user.is_authenticated else "guest"]
    most, unit = rate.split("/")
    return _count(f"{scope}:{person(request)}", int(most), SECONDS[unit])


def person(request: Any) -> str:
    """Return who asks: an account, or the address of a guest."""
    return f"user-{request.user.pk}" if request.user.is_authenticated else f"address-{client_address(request)}"


def client_address(request: Any) -> str:
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


def guest_digest(request: Any) -> str:
    """Return by what a guest is told from others; the address itself is not kept."""
    return salted_hmac("advisor.rates", client_address(request), algorithm="sha256").hexdigest()


def _count(key: str, most: int, window: int) -> int:
    number, elapsed = divmod(time.time(), window)
    now, before = f"rate:{key}:{int(number)}", f"rate:{key}:{int(number) - 1}"
    cache.add(now, 0, timeout=2 * window)
    earlier = cache.get(before, 0) * (1.0 - elapsed / window)
    if cache.get(now, 0) + earlier >= most:
        return max(1, math.ceil(window - elapsed))
    cache.incr(now)
    return 0
