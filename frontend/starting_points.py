"""Worked briefs to start from: each can be sent as it is, or opened and changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import yaml
from django.conf import settings

from frontend.forms.subjects import Filled
from frontend.forms.typed import texts_of


@dataclass(frozen=True, slots=True)
class StartingPoint:
    """A brief in ``fixtures/briefs``, under a name that addresses use."""

    name: str
    title: str
    says: str

    @property
    def given(self) -> Mapping[str, Any]:
        """The brief itself."""
        return _read(self.name)

    @property
    def facts(self) -> list[str]:
        """What it asks for, in a few figures."""
        v, given = Filled(texts_of(self.given)), self.given
        heat = f"processor {v['processor_watts']}"
        heat += f", graphics {v['graphics_watts']}" if given.get("graphics_watts") else ""
        drives = v.count("drive_count", "drive") or f"{v['usable_capacity_tb']} usable"
        layout = f", {v['layout']}" if "layout" in given else ""
        return [heat, drives + layout, f"{v['noise_target_dba']} at the seat", f"room {v['ambient_c']}"]


POINTS = (
    StartingPoint(
        "quiet_workstation",
        "Quiet workstation",
        "Someone renders at a desk; the machine stands on the floor beside the chair.",
    ),
    StartingPoint(
        "ten_drive_archive_box",
        "Ten-drive archive box",
        "A small office keeps its archive in a corner of the room where people work.",
    ),
    StartingPoint(
        "warm_cupboard_server",
        "Warm-cupboard server",
        "A household's server runs all year in a cupboard under the stairs.",
    ),
    StartingPoint(
        "small_two_drive_machine",
        "Small two-drive machine",
        "A box on a shelf holds photographs and backups on two mirrored drives.",
    ),
)
POINT_OF = {point.name: point for point in POINTS}


@cache
def _read(name: str) -> Mapping[str, Any]:
    file = settings.BASE_DIR / "fixtures" / "briefs" / f"{name}.yaml"
    return yaml.safe_load(file.read_text(encoding="utf-8"))
