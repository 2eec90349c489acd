"""The plan of a stored outcome, from its snapshot: never from the catalogue as it is now."""

from __future__ import annotations

import zlib
from functools import lru_cache

from advisor import study
from advisor.engine.inputs import Brief, Catalogue
from advisor.models import Outcome, Snapshot
from advisor.snapshots import record_from_json

SNAPSHOTS_KEPT = 4  # in each process


def packed_catalogue(text: str) -> bytes:
    """Return a catalogue's canonical JSON as a snapshot keeps it."""
    return zlib.compress(text.encode())


@lru_cache(maxsize=SNAPSHOTS_KEPT)
def catalogue_of(digest: str) -> Catalogue:
    """Return a snapshot's catalogue. Its name is the hash of its content, so what is kept is never out of date."""
    return record_from_json(Catalogue, zlib.decompress(Snapshot.objects.content_of(digest)))


def brief_of(outcome: Outcome) -> Brief:
    """Return the brief of an outcome."""
    return record_from_json(Brief, outcome.brief)


def plan_of(outcome: Outcome) -> study.Plan:
    """Return what an outcome's chunks are scored from."""
    return study.plan(brief_of(outcome), catalogue_of(outcome.snapshot_id), outcome.snapshot_id)
