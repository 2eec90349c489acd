"""The catalogue for those who keep it: search, filters, and where every figure comes from in sight."""

from __future__ import annotations

from typing import Any

from django.contrib import admin, messages
from django.contrib.contenttypes.admin import GenericTabularInline
from django.core.exceptions import ValidationError
from django.db import models
from django.forms import ModelForm
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.html import format_html_join

from catalog import models as catalog
from catalog.connections import check_enclosure
from catalog.formats import ENCLOSURES
from catalog.provenance import Figure, figures
from catalog.records import record_of


class FigureNoteInline(GenericTabularInline):
    """Other sources and uncertainties of single figures."""

    model = catalog.FigureNote
    extra = 0
    verbose_name = "note on a figure"
    verbose_name_plural = "notes on figures"


class PartAdmin(admin.ModelAdmin):
    """Any part: who makes it, who says so, what it costs."""

    list_display = ("code", "name", "maker", "source", "price")
    list_filter = ("source__kind", "maker")
    search_fields = ("code", "name", "maker__name", "source__code")
    list_select_related = ("maker", "source")
    inlines = (FigureNoteInline,)
    readonly_fields = ("provenance",)

    @admin.display(description="Who says so")
    def provenance(self, part: catalog.Part) -> str:
        """List every figure of a part with its source and one standard uncertainty."""
        if part.pk is None:
            return "Shown once the part is saved."
        rows = ((f.name, _sure(f), f.source_kind, f.source) for f in figures(part))
        return format_html_join("", "<div>{}: {}, {} ({})</div>", rows)


def _sure(figure: Figure) -> str:
    if figure.standard_uncertainty == 0:
        return "exact"
    if figure.relative:
        return f"± {figure.standard_uncertainty * 100:.3g} %"
    return f"± {figure.standard_uncertainty:.3g} {figure.unit}".rstrip()


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


class _Inside(admin.TabularInline):
    """Rows of one enclosure; links offer only rows of the same."""

    extra = 0

    def formfield_for_foreignkey(self, db_field: models.ForeignKey, request: HttpRequest, **kwargs: Any) -> Any:
        if db_field.related_model in (catalog.Zone, catalog.Opening):
            enclosure = request.resolver_match.kwargs.get("object_id") if request.resolver_match else None
            kwargs["queryset"] = db_field.related_model._default_manager.of_enclosures([enclosure] if enclosure else [])
        return super().formfield_for_foreignkey(db_field, request, **kwargs)


class ZoneInline(_Inside):
    model = catalog.Zone


class OpeningInline(_Inside):
    model = catalog.Opening


class BayGroupInline(_Inside):
    model = catalog.BayGroup


class SeatInline(_Inside):
    model = catalog.Seat


class SoundShareInline(_Inside):
    model = catalog.SoundShare


@admin.register(catalog.Enclosure)
class EnclosureAdmin(PartAdmin):
    """An enclosure with everything inside; what does not hang together is not saved.

    New enclosures come from catalogue files: their parts refer to each other, so that none could be entered first.
    """

    list_display = (*PartAdmin.list_display, "kind", "cooler_height_mm", "card_length_mm")
    list_filter = (*PartAdmin.list_filter, "kind")
    inlines = (ZoneInline, OpeningInline, BayGroupInline, SeatInline, SoundShareInline, FigureNoteInline)

    def changeform_view(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            return super().changeform_view(request, *args, **kwargs)
        except ValidationError as error:
            for message in error.messages:
                self.message_user(request, message, messages.ERROR)
            return HttpResponseRedirect(request.get_full_path())

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def save_related(self, request: HttpRequest, form: ModelForm, formsets: Any, change: bool) -> None:
        """Save what is inside, then look whether the whole hangs together; raising undoes the whole save."""
        super().save_related(request, form, formsets, change)
        enclosure = catalog.Enclosure.objects.with_wiring().get(pk=form.instance.pk)
        problems = check_enclosure(record_of(enclosure, ENCLOSURES, {}))
        if problems:
            raise ValidationError([str(problem) for problem in problems])


@admin.register(catalog.Source)
class SourceAdmin(admin.ModelAdmin):
    list_display = ("code", "kind", "bench", "date", "note")
    list_filter = ("kind", "bench")
    search_fields = ("code", "bench", "note")


@admin.register(catalog.Maker)
class MakerAdmin(admin.ModelAdmin):
    list_display = ("name", "code", "note")
    search_fields = ("name", "code", "note")


@admin.register(catalog.CatalogLoad)
class CatalogLoadAdmin(admin.ModelAdmin):
    """The history of loads, to look at."""

    list_display = ("loaded_at", "added", "changed", "removed", "files_sha256")

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: models.Model | None = None) -> bool:
        return False
