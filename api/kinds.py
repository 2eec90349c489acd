"""The kinds of the catalogue, which the interface has an endpoint each for."""

from catalog.kinds import KIND_OF, KINDS, Kind

__all__ = ["KINDS", "KIND_OF", "Kind"]
