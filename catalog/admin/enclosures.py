"""Enclosures with everything inside."""

from __future__ import annotations

from typing import Any

from django.contrib import admin, messages
from django.db import models
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from catalog import models as catalog
from catalog.admin.parts import FigureNoteInline, PartAdmin, with_choices_at_hand

ELSEWHERE = (
    "An enclosure is not added here, since what is inside refers to each other and none could be entered first. Load "
    "it from a catalogue file (manage.py load_catalog), or send it whole to /api/v1/enclosures/; one that you only "
    "have a tape measure for, to /api/v1/own-enclosures/, and offer it."
)


class _Inside(admin.TabularInline):
    """Rows of one enclosure; links offer only rows of the same."""

    extra = 0
    links: tuple[str, ...] = ()

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        return super().get_queryset(request).select_related(*self.links)

    def formfield_for_foreignkey(self, db_field: models.ForeignKey, request: HttpRequest, **kwargs: Any) -> Any:
        if db_field.related_model in (catalog.Zone, catalog.Opening):
            enclosure = request.resolver_match.kwargs.get("object_id") if request.resolver_match else None
            kwargs["queryset"] = db_field.related_model._default_manager.of_enclosures([enclosure] if enclosure else [])
        return with_choices_at_hand(super().formfield_for_foreignkey(db_field, request, **kwargs))


class ZoneInline(_Inside):
    model = catalog.Zone
    links = ("enclosure",)


class OpeningInline(_Inside):
    model = catalog.Opening
    links = ("enclosure", "from_zone", "to_zone")


class BayGroupInline(_Inside):
    model = catalog.BayGroup
    links = ("enclosure", "zone", "opening")


class SeatInline(_Inside):
    model = catalog.Seat
    links = ("enclosure", "zone", "fed_by")


class SoundShareInline(_Inside):
    model = catalog.SoundShare
    links = ("enclosure",)


@admin.register(catalog.Enclosure)
class EnclosureAdmin(PartAdmin):
    """An enclosure; what does not hang together is not saved."""

    list_display = (*PartAdmin.list_display, "kind", "cooler_height_mm", "card_length_mm")
    list_filter = (*PartAdmin.list_filter, "kind")
    inlines = (ZoneInline, OpeningInline, BayGroupInline, SeatInline, SoundShareInline, FigureNoteInline)
    change_list_template = "catalog/admin/enclosures.html"

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def add_view(self, request: HttpRequest, form_url: str = "", extra_context: Any = None) -> HttpResponse:
        """Say where it can be done."""
        self.message_user(request, ELSEWHERE, messages.WARNING)
        return HttpResponseRedirect(reverse("admin:catalog_enclosure_changelist"))

    def changelist_view(self, request: HttpRequest, extra_context: dict[str, Any] | None = None) -> HttpResponse:
        return super().changelist_view(request, {**(extra_context or {}), "elsewhere": ELSEWHERE})
