"""What exists and what was measured, one subject a module."""

from catalog.models.boards import Board, Graphics, Processor
from catalog.models.cooling import Cooler
from catalog.models.drives import Adapter, Card, Controller, Drive, SolidStateDrive
from catalog.models.enclosures import Enclosure, SoundShare
from catalog.models.fans import Fan
from catalog.models.parts import Part
from catalog.models.seating import BayGroup, Seat
from catalog.models.sources import CatalogLoad, FigureNote, Maker, Source
from catalog.models.supplies import Supply, Ups
from catalog.models.wiring import Opening, Zone

__all__ = [
    "Adapter",
    "BayGroup",
    "Board",
    "Card",
    "CatalogLoad",
    "Controller",
    "Cooler",
    "Drive",
    "Enclosure",
    "Fan",
    "FigureNote",
    "Graphics",
    "Maker",
    "Opening",
    "Part",
    "Processor",
    "Seat",
    "SolidStateDrive",
    "SoundShare",
    "Source",
    "Supply",
    "Ups",
    "Zone",
]
