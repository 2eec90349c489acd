"""Studies and outcomes, for whoever runs the machine: how far each has come, when, and why one failed. To look at."""

from __future__ import annotations

from typing import Any

from django.contrib import admin
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils import timezone

from advisor.models import Chunk, Outcome, Study
from catalog.admin import LookedAt


@admin.register(Study)
class StudyAdmin(LookedAt):
    """Whose studies are where."""

    list_display = ("id", "title", "owner", "state", "progress", "failure", "created_at", "finished_at", "cancelled_at")
    list_filter = ("outcome__state", "created_at")
    search_fields = ("id", "title", "owner__username", "outcome__failure")
    date_hierarchy = "created_at"
    list_per_page = 50
    show_full_result_count = False
    exclude = ("guest", "idempotency_key")
    readonly_fields = ("state", "progress", "failure", "started_at", "finished_at")

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        return super().get_queryset(request).with_progress().select_related("owner")

    @admin.display(ordering="outcome__state")
    def state(self, study: Study) -> str:
        return study.status

    @admin.display(description="enclosures scored")
    def progress(self, study: Any) -> str:
        return f"{study.chunks_done} of {study.outcome.chunk_total}"

    @admin.display
    def failure(self, study: Study) -> str:
        return study.outcome.failure or "-"

    @admin.display(ordering="outcome__started_at")
    def started_at(self, study: Study) -> Any:
        return study.outcome.started_at

    @admin.display(ordering="outcome__finished_at")
    def finished_at(self, study: Study) -> Any:
        return study.outcome.finished_at


class ChunkInline(admin.TabularInline):
    """The pieces of an outcome."""

    model = Chunk
    fields = readonly_fields = (
        *("enclosure", "size", "state", "scored", "attempts", "queued_at", "lease_until", "last_error"),
    )
    extra = 0
    can_delete = False

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        return super().get_queryset(request).defer("result").select_related("outcome")

    def has_view_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return True  # whoever may look at the outcome, which is asked before

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Outcome)
class OutcomeAdmin(LookedAt):
    """What the studies wait for."""

    list_display = ("key", "state", "progress", "candidates", "failure", "created_at", "started_at", "finished_at")
    list_filter = ("state", "model_version", "created_at")
    search_fields = ("key", "failure")
    date_hierarchy = "created_at"
    list_per_page = 50
    show_full_result_count = False
    inlines = (ChunkInline,)
    readonly_fields = ("progress", "candidates")
    exclude = ("lease_token",)

    def get_queryset(self, request: HttpRequest) -> QuerySet:
        now = timezone.now()
        return super().get_queryset(request).with_tally(now, now)

    @admin.display(description="enclosures scored")
    def progress(self, outcome: Any) -> str:
        return f"{outcome.chunks_done} of {outcome.chunk_total}"

    @admin.display
    def candidates(self, outcome: Any) -> str:
        return f"{outcome.candidates_done} of {outcome.candidate_total}"
