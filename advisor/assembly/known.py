"""Which codes the catalogue knows, and of which kind each part is: what part codes in a brief are checked against."""

from __future__ import annotations

from dataclasses import fields

from advisor.engine.inputs import Catalogue

_KINDS = {
    "enclosures": "enclosure",
    "fans": "fan",
    "coolers": "cooler",
    "supplies": "supply",
    "drives": "drive",
    "adapters": "adapter",
    "controllers": "controller",
    "ssds": "ssd",
    "cards": "card",
    "processors": "processor",
    "graphics": "graphics",
    "boards": "board",
    "ups_units": "ups",
}


def known_parts(catalogue: Catalogue) -> dict[str, str]:
    """Return the kind of every part by its code."""
    return {part.code: _KINDS[field.name] for field in fields(catalogue) for part in getattr(catalogue, field.name)}
