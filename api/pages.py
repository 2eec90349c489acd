"""The REST interface as pages for people: what was answered, and forms to send more.

The framework's own pages have inline styles, which the content security policy of every answer forbids; these are
smaller, and all they load is their own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rest_framework.renderers import BrowsableAPIRenderer, JSONRenderer
from rest_framework.request import Request, override_method

from advisor.access.rules import allowed
from api.errors import PAGE_FORMAT

SENDING = ("POST", "PUT", "PATCH", "DELETE")


@dataclass(frozen=True)
class Sender:
    """A form for one method; ``body`` is what its text starts with, or None where the method takes none."""

    method: str
    body: str | None


class PageRenderer(BrowsableAPIRenderer):
    """An answer as a page."""

    template = "api/page.html"
    format = PAGE_FORMAT

    def get_context(self, data: Any, accepted_media_type: str, renderer_context: Mapping[str, Any]) -> dict[str, Any]:
        view, request, response = (renderer_context[name] for name in ("view", "request", "response"))
        answered = data if isinstance(data, Mapping) else {}
        return {
            "name": self.get_name(view),
            "description": self.get_description(view, response.status_code),
            "trail": self.get_breadcrumbs(request),
            "request": request,
            "response": response,
            "content": "" if data is None else _readable(data),
            "previous": answered.get("previous"),
            "next": answered.get("next"),
            "senders": _senders(view, request, answered),
        }


def _senders(view: Any, request: Request, answered: Mapping[str, Any]) -> list[Sender]:
    """Return a form for each method by which this person may send something here."""
    forms = []
    for method in SENDING:
        if method in view.allowed_methods and allowed(request.resolver_match.view_name, method, request.user):
            with override_method(view, request, method):
                forms.append(Sender(method, _first_body(view, method, answered)))
    return forms


def _first_body(view: Any, method: str, answered: Mapping[str, Any]) -> str | None:
    operation = view.operations.get(method)
    if operation is None or operation.body is None:
        return None
    examples = operation.examples() if callable(operation.examples) else operation.examples
    start = dict(answered) if method == "PUT" else next(iter(examples.values()), {})
    return _readable(start)


def _readable(data: Any) -> str:
    return JSONRenderer().render(data, "application/json; indent=2").decode()
