"""Who says so: where figures come from, how sure they are, and when the catalogue was loaded."""

from __future__ import annotations

from django.contrib.contenttypes.fields import GenericForeignKey
from django.contrib.contenttypes.models import ContentType
from django.db import models
from django.db.models import Q

from catalog.models.columns import Choice, Code, Count, Day, Flag, Quantity, Text
from catalog.models.rules import Rule, constrained, implies
from catalog.models.vocabulary import SourceKind
from catalog.querysets.parts import KeyedQuerySet
from catalog.querysets.sources import CatalogLoadQuerySet, FigureNoteQuerySet


@constrained
class Source(models.Model):
    """Where figures come from: a bench, a maker's declaration or an estimate."""

    code = Code(unique=True, help_text="Short word by which parts refer to this source.")
    kind = Choice(choices=SourceKind, help_text="How the figures came about; it decides how sure they are by default.")
    bench = Text(max_length=120, blank=True, default="", help_text="Name of the bench, for measured figures.")
    date = Day(null=True, blank=True, help_text="Day of the measurement, declaration or estimate.")
    note = Text(max_length=2000, blank=True, default="", help_text="What a reader should know about it.")

    objects = KeyedQuerySet.as_manager()

    RULES = (
        Rule(
            "source_measured_on_a_bench",
            implies(Q(kind=SourceKind.MEASURED), ~Q(bench="")),
            ("kind", "bench"),
            "a measured source needs the name of its bench",
        ),
    )

    class Meta:
        ordering = ["code"]

    def __str__(self) -> str:
        return self.code


class Maker(models.Model):
    """Who makes a part; parts refer to makers by name."""

    code = Code(unique=True, help_text="Short word for the maker.")
    name = Text(max_length=80, unique=True, help_text="Name of the maker, by which parts refer to it.")
    note = Text(max_length=2000, blank=True, default="", help_text="What a reader should know about the maker.")

    objects = KeyedQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


@constrained
class FigureNote(models.Model):
    """What is special about one figure of a part: another source, another uncertainty, or both.

    ``figure`` is the figure's key in the catalogue files; below an enclosure it is ``openings.CODE.area_cm2`` for one
    opening or ``openings.area_cm2`` for all of them.
    """

    content_type = models.ForeignKey(ContentType, on_delete=models.CASCADE)
    object_id = models.PositiveBigIntegerField()
    part = GenericForeignKey("content_type", "object_id")
    figure = Text(max_length=200, help_text="Key of the figure, such as r_air_k_w or openings.front.area_cm2.")
    source = models.ForeignKey(
        Source,
        models.PROTECT,
        to_field="code",
        null=True,
        blank=True,
        related_name="figure_notes",
        help_text="Where this figure comes from, when not from the part's own source.",
    )
    uncertainty = Quantity(
        null=True, blank=True, help_text="One standard uncertainty: in the figure's unit, or as a share of the figure."
    )
    relative = Flag(default=False, help_text="Whether the uncertainty is a share of the figure (0.05 for 5 %).")

    objects = FigureNoteQuerySet.as_manager()

    RULES = (
        Rule(
            "figurenote_says_something",
            Q(source__isnull=False) | Q(uncertainty__isnull=False),
            ("source", "uncertainty"),
            "a note names a source, an uncertainty or both",
        ),
    )

    class Meta:
        ordering = ["content_type", "object_id", "figure"]
        constraints = [
            models.UniqueConstraint(fields=["content_type", "object_id", "figure"], name="figurenote_one_per_figure")
        ]

    def __str__(self) -> str:
        return self.figure


@constrained
class CatalogLoad(models.Model):
    """One run of the loading command that left its result in the catalogue."""

    loaded_at = models.DateTimeField(help_text="When the load was committed.")
    files_sha256 = models.CharField(max_length=64, help_text="Digest of the files as read.")
    catalog_sha256 = models.CharField(max_length=64, help_text="Digest of the whole catalogue as it was left.")
    added = Count(help_text="Parts that were new.")
    changed = Count(help_text="Parts that differed.")
    removed = Count(help_text="Parts that were pruned.")

    objects = CatalogLoadQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.loaded_at:%Y-%m-%d %H:%M}: {self.added} added, {self.changed} changed, {self.removed} removed"
