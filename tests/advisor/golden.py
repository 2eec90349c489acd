"""The answers that the model's version stands for; ``golden.record()`` writes them anew.

Record them only together with a higher ``MODEL_VERSION``: stored answers of the old version are then asked anew.
"""

import json
from pathlib import Path

from advisor import study
from advisor.engine.version import MODEL_VERSION
from tests.engine.record import found

FILE = Path(__file__).with_name("golden.json")
KEPT = ("id", "desirability", "criteria", "price", "settings", "headroom_k", "noise_margin_db")
PREDICTED = ("processor_c", "graphics_c", "drive_c", "noise_dba")


def answers():
    """What a small study answers, by its place in the record: numbers, and codes of builds."""
    plan = study.plan(found.brief(), found.catalogue())
    record = study.merge(plan, [study.score_chunk(plan, code) for code in plan.chunks])
    kept = {"counts": record["counts"], "misses": [one["id"] for one in record["nearest_misses"]]}
    kept["shortlist"] = [_of_entry(entry) for entry in record["shortlist"]]
    return dict(_leaves("", kept))


def record():
    """Write the answers of the engine as it is."""
    kept = {"model_version": MODEL_VERSION, "answers": answers()}
    FILE.write_text(json.dumps(kept, indent=0, sort_keys=True) + "\n")


def _of_entry(entry):
    predicted = {code: {name: one[name] for name in PREDICTED} for code, one in entry["predictions"].items()}
    return {name: entry[name] for name in KEPT} | {"predictions": predicted}


def _leaves(path, value):
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _leaves(f"{path}/{name}", inner)
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _leaves(f"{path}/{number}", inner)
    else:
        yield path, value
