"""The catalogue for those who keep it: search, filters, and where every figure comes from in sight."""

from catalog.admin.enclosures import EnclosureAdmin
from catalog.admin.looking import LookedAt
from catalog.admin.parts import PartAdmin
from catalog.admin.sources import CatalogLoadAdmin, MakerAdmin, SourceAdmin

__all__ = ["CatalogLoadAdmin", "EnclosureAdmin", "LookedAt", "MakerAdmin", "PartAdmin", "SourceAdmin"]
