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
FRONT: dict[str, Any] = {
    "study": _URL,
    "status": "done",
    "note": (
        "Chosen from the 16 builds that were judged and accepted. Builds not judged, since they could not make the "
        "list: 1; some of them may be quieter, cooler, cheaper or roomier than these."
    ),
    "accepted": 16,
    "pruned": 1,
    "left_out": 0,
    "columns": {
        "enclosure": ["drive_cube", "drive_cube", "mesh_tower", "mesh_tower", "mesh_tower", "mesh_tower"],
        "intake": ["none", "none", "fan-140", "fan-140", "fan-140", "fan-140"],
        "exhaust": ["fan-140", "fan-140", "turn", "turn", "fan-120", "fan-120"],
        "cooler": ["cooler", "cooler", "cooler", "cooler", "cooler", "cooler"],
        "supply": ["supply", "supply", "supply", "supply", "supply", "supply"],
        "drive": ["drive", "warm_drive", "drive", "warm_drive", "drive", "warm_drive"],
        "drive_count": [3, 3, 3, 3, 3, 3],
        "noise_dba": [31.54, 31.55, 31.77, 31.78, 31.91, 31.92],
        "headroom_k": [7.87, 7.72, 8.76, 8.66, 11.13, 11.04],
        "spare_places": [5, 5, 3, 3, 3, 3],
        "price": [810.0, 720.0, 819.0, 729.0, 825.0, 735.0],
        "desirability": [0.722251, 0.731736, 0.765824, 0.777602, 0.813976, 0.827253],
    },
}
