"""Tables that are looked at and never written by hand."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.http import HttpRequest
from django.urls import URLPattern


class LookedAt(admin.ModelAdmin):
    """A list and pages without any way to add, change or remove."""

    def get_urls(self) -> list[URLPattern]:
        return [url for url in super().get_urls() if not str(url.name).endswith(("_add", "_delete"))]

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
