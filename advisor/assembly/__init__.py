"""Catalogue rows into the engine's frozen records in SI units: the only translator between the two."""

from advisor.assembly.catalogue import catalogue
from advisor.snapshots import content_hash

__all__ = ["catalogue", "content_hash"]
