"""Board forms: how large they are, and the board assumed where a brief names none."""

from __future__ import annotations

from advisor.engine.errors import InputError
from advisor.engine.inputs import Board

# Height along the rear edge and depth [m]; ATX specification 2.2, Mini-ITX addendum, SSI EEB 3.61.
BOARD_SIZE_M = {
    "mini_itx": (0.170, 0.170),
    "micro_atx": (0.244, 0.244),
    "atx": (0.305, 0.244),
    "eatx": (0.305, 0.330),
}

# Heat of chip set and regulators, ports and slots of a plain board of each form (common practice, no source).
_ASSUMED = (
    # form, heat [W], SATA ports, M.2 slots, card slots
    ("mini_itx", 12.0, 4, 1, 1),
    ("micro_atx", 15.0, 4, 2, 4),
    ("atx", 20.0, 6, 2, 7),
    ("eatx", 30.0, 8, 2, 7),
)
DEFAULT_BOARDS = {
    form: Board(f"default_{form}", f"assumed {form} board", form, heat_w, sata_ports, m2_slots, card_slots)
    for form, heat_w, sata_ports, m2_slots, card_slots in _ASSUMED
}


def default_board(form: str) -> Board:
    """Return the board assumed for a form where the brief names none.

    >>> default_board("mini_itx").sata_ports
    4
    """
    try:
        return DEFAULT_BOARDS[form]
    except KeyError:
        raise InputError(f"board form '{form}' is not known; use one of {', '.join(DEFAULT_BOARDS)}") from None


def board_fits_form(form: str, place: str) -> bool:
    """Tell whether a board of ``form`` fits where a board of the form ``place`` does: no longer either way.

    >>> board_fits_form("micro_atx", "atx"), board_fits_form("eatx", "atx")
    (True, False)
    """
    height, depth = BOARD_SIZE_M[form]
    place_height, place_depth = BOARD_SIZE_M[place]
    return height <= place_height and depth <= place_depth
