"""Checks of an enclosure against a brief."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from advisor.engine.boards import BOARD_SIZE_M, board_fits_form
from advisor.engine.fit.misfit import Misfit, measured, unlike
from advisor.engine.inputs import Adapter, Board, Brief, Enclosure
from advisor.engine.orientation import rotation
from advisor.engine.storage.bays import BayPlan, BayShortfall, plan_bays

# Sizes are compared to a micrometre, so that the same size on both sides fits whatever the rounding.
SIZE_TOLERANCE_M = 1e-6


def mm(length_m: float) -> str:
    """Write a length for people [mm]."""
    return f"{1000.0 * length_m:.0f} mm"


def turned_size(size_m: tuple[float, float, float], orientation: str) -> tuple[float, float, float]:
    """Return width, height and depth [m] of a box as it stands.

    >>> turned_size((0.2, 0.45, 0.5), "on_left")
    (0.45, 0.2, 0.5)
    """
    width, height, depth = size_m
    across, along, up = np.abs(rotation(orientation)) @ np.array([width, depth, height])
    return float(across), float(up), float(along)


def _size(code: str, axis: int, what: str, field: str, enclosure: Enclosure, brief: Brief) -> Misfit | None:
    limit = (brief.max_width_m, brief.max_height_m, brief.max_depth_m)[axis]
    size = turned_size(enclosure.size_m, brief.orientation)[axis]
    if limit is None or size <= limit + SIZE_TOLERANCE_M:
        return None
    text = (
        f"{enclosure.code} is {mm(size)} {what} as it stands ({brief.orientation}), {mm(size - limit)} over {field} "
        f"({mm(limit)}): raise {field} to {math.ceil(1000 * size - 1e-3)} mm or turn the enclosure."
    )
    return measured(code, enclosure.code, size, limit, text)


def too_wide(enclosure: Enclosure, brief: Brief) -> Misfit | None:
    """Check the width as the enclosure stands."""
    return _size("too_wide", 0, "wide", "max_width_mm", enclosure, brief)


def too_high(enclosure: Enclosure, brief: Brief) -> Misfit | None:
    """Check the height as the enclosure stands."""
    return _size("too_high", 1, "high", "max_height_mm", enclosure, brief)


def too_deep(enclosure: Enclosure, brief: Brief) -> Misfit | None:
    """Check the depth as the enclosure stands."""
    return _size("too_deep", 2, "deep", "max_depth_mm", enclosure, brief)


def orientation(enclosure: Enclosure, brief: Brief) -> Misfit | None:
    """Check that the enclosure may stand as the brief wants it."""
    if brief.orientation in enclosure.orientations:
        return None
    allowed = ", ".join(enclosure.orientations)
    size = " × ".join(f"{1000 * one:.0f}" for one in turned_size(enclosure.size_m, brief.orientation))
    text = (
        f"{enclosure.code} may stand {allowed}, not {brief.orientation} ({size} mm): change orientation to "
        f"{enclosure.orientations[0]}."
    )
    return unlike("orientation", enclosure.code, brief.orientation, enclosure.orientations, text)


def board_form(enclosure: Enclosure, board: Board) -> Misfit | None:
    """Check that the board has a place: its own form or a larger one is listed."""
    if any(board_fits_form(board.form, place) for place in enclosure.board_forms):
        return None
    listed = ", ".join(f"{form} ({_board_mm(form)})" for form in enclosure.board_forms) or "none"
    text = (
        f"{enclosure.code} takes boards of the forms {listed}; {board.code} is {board.form} "
        f"({_board_mm(board.form)}): choose a smaller board."
    )
    return unlike("board_form", enclosure.code, board.form, enclosure.board_forms, text)


def _board_mm(form: str) -> str:
    height, depth = BOARD_SIZE_M[form]
    return f"{1000 * height:.0f} × {mm(depth)}"


def card_length(enclosure: Enclosure, brief: Brief) -> Misfit | None:
    """Check the length of the graphics boards."""
    length, limit = brief.graphics_length_m, enclosure.card_length_m
    if not brief.graphics_count or length <= limit + SIZE_TOLERANCE_M:
        return None
    text = (
        f"{enclosure.code} takes cards up to {mm(limit)} long; the graphics board is {mm(length)}, "
        f"{mm(length - limit)} too long: choose a shorter one."
    )
    return measured("card_length", enclosure.code, length, limit, text)


def controller_slots(enclosure: Enclosure, brief: Brief, board: Board) -> int:
    """Return the slots left for storage controllers: in the enclosure and on the board, whichever has fewer."""
    covered = brief.graphics_slots * brief.graphics_count + brief.card_count
    return min(enclosure.card_slots - covered, board.card_slots - brief.graphics_count - brief.card_count)


def card_slots(enclosure: Enclosure, brief: Brief, board: Board, controllers: int = 0) -> Misfit | None:
    """Check the slots of the enclosure, which wide cards cover, then those of the board, one to a card."""
    cards = brief.graphics_count + brief.card_count + controllers
    covered = cards + (brief.graphics_slots - 1) * brief.graphics_count
    if covered > enclosure.card_slots:
        part, needed, limit, what = enclosure.code, covered, enclosure.card_slots, "slot openings"
    elif cards > board.card_slots:
        part, needed, limit, what = board.code, cards, board.card_slots, "card slots"
    else:
        return None
    text = (
        f"{part} has {limit} {what}; graphics boards, cards and controllers need {needed}: use fewer or thinner cards."
    )
    return measured("card_slots", part, needed, limit, text)


def drive_bays(enclosure: Enclosure, brief: Brief, drive_count: int, adapters: Sequence[Adapter] = ()) -> Misfit | None:
    """Check that all drives and the spare bays find a place, hot-swap or not."""
    plan = plan_bays(enclosure, brief.drive_form, drive_count, brief.spare_bays, False, adapters)
    return _bays("drive_bays", "places", "use fewer, larger drives or lower spare_bays", enclosure, brief, plan)


def hot_swap(enclosure: Enclosure, brief: Brief, drive_count: int, adapters: Sequence[Adapter] = ()) -> Misfit | None:
    """Check that all drives and the spare bays find a hot-swap place, where the brief wants that."""
    if not brief.hot_swap:
        return None
    plan = plan_bays(enclosure, brief.drive_form, drive_count, brief.spare_bays, True, adapters)
    return _bays("hot_swap", "hot-swap places", "set hot_swap to false or use fewer drives", enclosure, brief, plan)


def _bays(
    code: str, what: str, remedy: str, enclosure: Enclosure, brief: Brief, plan: BayPlan | BayShortfall
) -> Misfit | None:
    if isinstance(plan, BayPlan):
        return None
    text = (
        f"{enclosure.code} has {plan.places} {what} for {brief.drive_form}-inch drives, adapters included; drives and "
        f"{brief.spare_bays} spare bays need {plan.needed}: {remedy}."
    )
    return measured(code, enclosure.code, plan.needed, plan.places, text)
