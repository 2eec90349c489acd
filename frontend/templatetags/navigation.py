"""The links at the head of every page, for whoever looks at it."""

from __future__ import annotations

from dataclasses import dataclass

from django import template
from django.template import Context
from django.urls import NoReverseMatch, reverse

register = template.Library()

PAGES = (
    ("pages:brief", "New brief"),
    ("pages:catalogue", "Catalogue"),
    ("pages:method", "How it is computed"),
)
MEMBER_PAGES = (("pages:study-list", "My studies"), ("pages:own", "My parts"))
GUEST = (("pages:sign-in", "Sign in"), ("pages:sign-up", "Sign up"))
MEMBER = (("pages:account", "Account"), ("pages:sign-out", "Sign out"))
POSTED = ("pages:sign-out",)


@dataclass(frozen=True, slots=True)
class Link:
    """A link of the navigation; ``current`` is the word of ``aria-current``, empty for other pages."""

    address: str
    words: str
    current: str = ""
    posts: bool = False


@dataclass(frozen=True, slots=True)
class Links:
    """Links to pages, and those about the person."""

    pages: tuple[Link, ...]
    person: tuple[Link, ...]


@register.simple_tag(takes_context=True)
def navigation(context: Context) -> Links:
    """Return the links; without a request, as on pages of errors, those of a guest."""
    request = context.get("request")
    signed_in = bool(request and getattr(request, "user", None) and request.user.is_authenticated)
    here = request.path if request else ""
    pages = (*PAGES, *MEMBER_PAGES) if signed_in else PAGES
    return Links(_links(pages, here), _links(MEMBER if signed_in else GUEST, here))


def _links(pages: tuple[tuple[str, str], ...], here: str) -> tuple[Link, ...]:
    found = []
    for route, words in pages:
        try:
            address = reverse(route)
        except NoReverseMatch:  # a page that this service does not have
            continue
        current = "page" if here == address else "true" if address != "/" and here.startswith(address) else ""
        found.append(Link(address, words, current, route in POSTED))
    return tuple(found)
