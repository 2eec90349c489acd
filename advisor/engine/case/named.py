"""Which board, processor, graphics board, solid-state drive and card a brief means: named parts or assumed ones."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from advisor.engine import assumed
from advisor.engine.boards import default_board
from advisor.engine.inputs import AirCooledPart, Board, Brief, Catalogue, Graphics, Processor

_Part = TypeVar("_Part", Board, Processor, Graphics, AirCooledPart)


@dataclass(frozen=True)
class NamedParts:
    """The parts that come with the brief rather than from the search."""

    board: Board
    processor: Processor
    graphics: Graphics | None
    ssd: AirCooledPart
    card: AirCooledPart


def _named(parts: tuple[_Part, ...], wanted: tuple[str, ...]) -> _Part | None:
    return next((part for part in parts if part.code in wanted), None)


def named_parts(brief: Brief, catalogue: Catalogue) -> NamedParts:
    """Resolve ``required_parts`` of the kinds that the brief brings, assumed parts standing in for the rest.

    The brief's watts always hold; a named processor or graphics board adds its resistance, limit and sound.
    """
    wanted = brief.required_parts
    graphics = None
    if brief.graphics_count:
        graphics = _named(catalogue.graphics, wanted) or assumed.graphics(brief)
    return NamedParts(
        _named(catalogue.boards, wanted) or default_board(brief.board_form),
        _named(catalogue.processors, wanted) or assumed.processor(brief),
        graphics,
        _named(catalogue.ssds, wanted) or assumed.SSD,
        _named(catalogue.cards, wanted) or assumed.CARD,
    )
