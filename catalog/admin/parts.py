"""Parts of all kinds: who makes them, who says so, whose they are, what they cost."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.contrib.contenttypes.admin import GenericTabularInline
from django.db import models
from django.db.models import QuerySet
from django.forms import Field
from django.http import HttpRequest
from django.utils.safestring import SafeString

from catalog import models as catalog
from catalog.admin.offers import OffersAdmin, StandingFilter
from catalog.admin.provenance import provenance_table
from catalog.admin.saving import CheckedAdmin


def with_choices_at_hand(field: Any) -> Field:
    """Look the choices of a link up once for a page; each row of a table would else look for itself."""
    if field is not None:
        field.choices = list(field.choices)
    return field


class FigureNoteInline(GenericTabularInline):
    """Other sources and uncertainties of single figures."""

    model = catalog.FigureNote
    extra = 0
    verbose_name = "note on a figure"
    verbose_name_plural = "notes on figures"

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        return super().get_queryset(request).select_related("source")

    def formfield_for_foreignkey(self, db_field: models.ForeignKey, request: HttpRequest, **kwargs: Any) -> Any:
        return with_choices_at_hand(super().formfield_for_foreignkey(db_field, request, **kwargs))


class PartAdmin(CheckedAdmin, OffersAdmin):
    """Any part; those of single people are shown while they are on offer, and only to be looked at."""

    list_display = ("code", "name", "maker", "source", "source_kind", "owner", "offered_at", "price")
    list_filter = (StandingFilter, "source__kind", "maker")
    search_fields = ("code", "name", "maker__name", "source__code", "contributor", "owner__username")
    list_select_related = ("maker", "source", "owner")
    list_per_page = 50
    show_full_result_count = False
    inlines = (FigureNoteInline,)
    readonly_fields = ("owner", "offered_at", "decline_note", "provenance")

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        return super().get_queryset(request).in_keeping()

    def get_readonly_fields(self, request: HttpRequest, obj: catalog.Part | None = None) -> tuple[str, ...]:
        """A code never changes: briefs, files and studies name the part by it."""
        return (*self.readonly_fields, *(("code",) if obj else ()))

    def has_change_permission(self, request: HttpRequest, obj: catalog.Part | None = None) -> bool:
        return super().has_change_permission(request, obj) and (obj is None or obj.owner_id is None)

    def has_delete_permission(self, request: HttpRequest, obj: catalog.Part | None = None) -> bool:
        return super().has_delete_permission(request, obj) and (obj is None or obj.owner_id is None)

    @admin.display(description="How it came about", ordering="source__kind")
    def source_kind(self, part: catalog.Part) -> str:
        return part.source.get_kind_display()

    @admin.display(description="Who says so")
    def provenance(self, part: catalog.Part) -> SafeString | str:
        """Show every figure with its source and one standard uncertainty."""
        return provenance_table(part) if part.pk else "Shown once the part is saved."


@admin.register(catalog.Fan)
class FanAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "size_mm", "thickness_mm", "min_rpm", "max_rpm", "control")
    list_filter = (*PartAdmin.list_filter, "size_mm", "control", "may_stop")


@admin.register(catalog.Cooler)
class CoolerAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "height_mm", "max_rpm", "control")
    list_filter = (*PartAdmin.list_filter, "control")


@admin.register(catalog.Supply)
class SupplyAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "form", "length_mm", "rating_w", "air_path")
    list_filter = (*PartAdmin.list_filter, "form", "air_path")


@admin.register(catalog.Drive)
class DriveAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "form", "capacity_tb", "max_per_box")
    list_filter = (*PartAdmin.list_filter, "form")


@admin.register(catalog.Board)
class BoardAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "form", "sata_ports", "socket")
    list_filter = (*PartAdmin.list_filter, "form", "socket")


@admin.register(catalog.Graphics)
class GraphicsAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "heat_w", "length_mm", "airflow")
    list_filter = (*PartAdmin.list_filter, "airflow")


@admin.register(catalog.SolidStateDrive, catalog.Card, catalog.Controller, catalog.Processor)
class HeatAdmin(PartAdmin):
    list_display = (*PartAdmin.list_display, "heat_w", "limit_c")


admin.site.register([catalog.Adapter, catalog.Ups], PartAdmin)
