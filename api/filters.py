"""Filters and orders of the catalogue's lists, one or more for each column, so that a new column has them too.

``price=95`` is equality, ``price_min`` and ``price_max`` are the ends of a range, and words take several with commas
between. Filters on what is inside an enclosure (``openings.fan_size_mm=140``) must all hold for one and the same opening.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.db.models import Q, QuerySet, TextField
from django.db.models.fields.json import JSONField
from django.db.models.functions import Cast

from advisor.brief.values import nearest, problem
from api import readers
from api.errors import Invalid
from api.kinds import Kind
from api.schema.operation import Parameter
from api.schema.shapes import Schema, number, one_of, text, whole
from catalog.models.columns import Checked, Choice, Code, Count, Day, Flag, Quantity, Text
from catalog.models.lists import CheckedList, Words
from catalog.models.vocabulary import SourceKind
from catalog.shapes import Children, Entry, Format, Group, Link, Scalar, Vector
