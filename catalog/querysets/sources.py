"""Questions to the provenance of figures."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models


class FigureNoteQuerySet(models.QuerySet):
    """Notes on single figures."""

    def of_model(self, model_name: str) -> Self:
        """Return the notes on parts of one model."""
        return self.filter(content_type__app_label="catalog", content_type__model=model_name)

    def on_parts(self, keys: Iterable[int]) -> Self:
        """Return the notes on parts with these primary keys; only of use within one model."""
        return self.filter(object_id__in=keys)

    def sources_by_part(self) -> models.QuerySet:
        """Return model name, primary key of the part and code of the source of every note that names one."""
        return self.exclude(source=None).values_list("content_type__model", "object_id", "source_id")


class CatalogLoadQuerySet(models.QuerySet):
    """The history of loads."""

    def latest_first(self) -> Self:
        return self.order_by("-pk")
