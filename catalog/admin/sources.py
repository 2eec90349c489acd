"""Who says so, who makes it, and the history of loads."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db import models
from django.http import HttpRequest

from catalog import models as catalog
from catalog.admin.looking import LookedAt
from catalog.admin.saving import PublicForm
from catalog.built_in import is_built_in
from catalog.importing.single import StillNeeded, refuse_needed


class _NamedByParts(admin.ModelAdmin):
    """A row that parts name: names never change, what is built in stays, and so does what parts rest on."""

    form = PublicForm
    kind = ""
    named_by: tuple[str, ...] = ("code",)

    def get_readonly_fields(self, request: HttpRequest, obj: models.Model | None = None) -> tuple[str, ...]:
        return self.named_by if obj else ()

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return super().has_change_permission(request, obj) and not (obj and is_built_in(self.kind, obj.code))

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return super().has_delete_permission(request, obj) and not (obj and is_built_in(self.kind, obj.code))

    def get_deleted_objects(self, objs: Any, request: HttpRequest) -> Any:
        """Name public parts that stand in the way, and only count people's own."""
        deleted, counts, lacking, _ = super().get_deleted_objects(objs, request)
        needed = []
        for row in objs:
            try:
                refuse_needed(row)
            except StillNeeded as error:
                needed.append(f"{row}: needed by {error.by}")
        return deleted, counts, set() if needed else lacking, needed


@admin.register(catalog.Source)
class SourceAdmin(_NamedByParts):
    kind = "sources"
    list_display = ("code", "kind", "bench", "date", "note")
    list_filter = ("kind", "bench")
    search_fields = ("code", "bench", "note")
    date_hierarchy = "date"


@admin.register(catalog.Maker)
class MakerAdmin(_NamedByParts):
    kind = "makers"
    named_by = ("code", "name")
    list_display = ("name", "code", "note")
    search_fields = ("name", "code", "note")


@admin.register(catalog.CatalogLoad)
class CatalogLoadAdmin(LookedAt):
    """The history of loads."""

    list_display = ("loaded_at", "added", "changed", "removed", "files_sha256")
    date_hierarchy = "loaded_at"
