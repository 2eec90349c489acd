"""Parts on offer: found by a filter, accepted or declined by an action with one more page to say how."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import admin, messages
from django.contrib.admin.helpers import ACTION_CHECKBOX_NAME
from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.template.response import TemplateResponse

from catalog.models import Part
from catalog.offers import OfferRefused, accept, decline

PUBLIC, OFFERED = "public", "offered"
Step = Callable[[Part, str], Part]


class StandingFilter(admin.SimpleListFilter):
    """Whose parts are shown; what is private and not on offer never is."""

    title = "standing"
    parameter_name = "standing"

    def lookups(self, request: HttpRequest, model_admin: Any) -> list[tuple[str, str]]:
        return [(PUBLIC, "in the catalogue"), (OFFERED, "on offer")]

    def queryset(self, request: HttpRequest, queryset: QuerySet) -> QuerySet:
        return {PUBLIC: queryset.public, OFFERED: queryset.offered}.get(self.value() or "", queryset.all)()


class OffersAdmin(admin.ModelAdmin):
    """What a curator does with parts on offer; their owners' own pages are elsewhere."""

    actions = ("accept_offers", "decline_offers")

    @admin.action(description="Accept into the catalogue ...", permissions=["change"])
    def accept_offers(self, request: HttpRequest, queryset: QuerySet) -> HttpResponse | None:
        return self._step(request, queryset, "code", "Accepted as", lambda part, code: accept(part=part, code=code))

    @admin.action(description="Decline with a note ...", permissions=["change"])
    def decline_offers(self, request: HttpRequest, queryset: QuerySet) -> HttpResponse | None:
        return self._step(request, queryset, "note", "Declined:", lambda part, note: decline(part=part, note=note))

    def _step(self, request: HttpRequest, chosen: QuerySet, asked: str, done: str, step: Step) -> HttpResponse | None:
        """Ask for one text for each part; once given, take the step for all parts or, where one is refused, none."""
        parts = list(chosen.offered())
        if not parts:
            self.message_user(request, "None of these is on offer; choose among those that are.", messages.WARNING)
            return None
        given = {part.pk: request.POST.get(f"{asked}-{part.pk}") for part in parts}
        if None in given.values():
            return self._ask(request, parts, asked, {})
        refused = self._take(request, parts, given, done, step)
        return self._ask(request, parts, asked, refused) if refused else None

    def _take(
        self,
        request: HttpRequest,
        parts: list[Part],
        given: dict[int, Any],
        done: str,
        step: Step,
    ) -> dict[int, list[str]]:
        refused: dict[int, list[str]] = {}
        with transaction.atomic():
            for part in parts:
                try:
                    step(part, given[part.pk])
                    self.log_change(request, part, f"{done} {given[part.pk]}")
                except OfferRefused as error:
                    refused[part.pk] = [str(problem) for problem in error.problems]
                except type(part).DoesNotExist:
                    refused[part.pk] = ["is no longer on offer: go back and choose again"]
            transaction.set_rollback(bool(refused))
        if not refused:
            self.message_user(request, f"{done} {', '.join(given.values())}", messages.SUCCESS)
        return refused

    def _ask(self, request: HttpRequest, parts: list[Part], asked: str, refused: dict[int, list[str]]) -> HttpResponse:
        rows = [
            {
                "part": part,
                "field": f"{asked}-{part.pk}",
                "value": request.POST.get(f"{asked}-{part.pk}", ""),
                "refused": refused.get(part.pk, []),
            }
            for part in parts
        ]
        context = {
            **self.admin_site.each_context(request),
            "opts": self.opts,
            "title": {"code": "Accept into the catalogue", "note": "Decline with a note"}[asked],
            "asked": asked,
            "rows": rows,
            "action": request.POST["action"],
            "checkbox": ACTION_CHECKBOX_NAME,
        }
        return TemplateResponse(request, "catalog/admin/offers.html", context)
