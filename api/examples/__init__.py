"""Examples in the interface's description. All is invented; tests post the briefs and hold the answers to their shape.

``found.json`` is what a study over three invented enclosures found, with lists cut to their first rows.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

_ID = "9b0e7a52-6c1f-4d38-a5e4-2f7c80d1b396"
_URL = f"http://localhost:8000/api/v1/studies/{_ID}/"
_FOUND = json.loads(Path(__file__).with_name("found.json").read_text())

BRIEFS: dict[str, Any] = {
    "workstation": {
        "title": "Quiet workstation under the window",
        "processor_watts": 105,
        "board_form": "atx",
        "graphics_watts": 200,
        "drive_count": 0,
        "noise_target_dba": 30,
        "ambient_c": 24,
        "budget": 1500,
    },
    "archive": {
        "title": "Archive for the office",
        "processor_watts": 65,
        "board_form": "micro_atx",
        "usable_capacity_tb": 40,
        "layout": "double_parity",
        "noise_target_dba": 34,
        "seat_distance_m": 2,
        "ups_minutes": 5,
        "weights": {"noise": 5, "price": 1},
    },
}
SUMMARY = {
    "id": _ID,
    "url": _URL,
    "status": "running",
    "title": "Quiet workstation under the window",
    "created_at": "2026-11-25T09:30:00Z",
}
STUDIES = {"next": None, "previous": None, "results": [SUMMARY]}
QUEUED = {
    **SUMMARY,
    "status": "queued",
    "brief": BRIEFS["workstation"],
    "warnings": [
        {"field": "graphics_length_mm", "message": "graphics_length_mm was not given; 270 mm is taken."},
        {"field": "graphics_slots", "message": "graphics_slots was not given; 2 is taken."},
        {"field": "graphics_noise_dba", "message": "graphics_noise_dba was not given; 36 dBA is taken."},
    ],
    "progress": {"done": 0, "total": 18, "enclosures_done": 0, "enclosures_total": 3},
    "failure": None,
    "counts": None,
    "shortlist": None,
    "nearest_misses": None,
    "notes": None,
    "cautions": None,
    "model_version": "1",
    "catalog_hash": "5f70bf18a086007016e948b04aed3b82103a36bea41755b6cddfaf10ace3c6ef",
}
CANCELLED = {**QUEUED, "status": "cancelled"}
DONE = {
    **QUEUED,
    "status": "done",
    "progress": {"done": 18, "total": 18, "enclosures_done": 3, "enclosures_total": 3},
    **_FOUND,
}
