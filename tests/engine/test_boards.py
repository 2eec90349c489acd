"""Board forms and the boards assumed for them."""

import pytest

from advisor.engine.boards import BOARD_SIZE_M, DEFAULT_BOARDS, board_fits_form, default_board
from advisor.engine.errors import InputError

FORMS = ("mini_itx", "micro_atx", "atx", "eatx")


def test_each_form_has_a_size_and_a_board():
    assert tuple(BOARD_SIZE_M) == tuple(DEFAULT_BOARDS) == FORMS
    assert all(default_board(form).form == form for form in FORMS)


@pytest.mark.parametrize("place", FORMS)
def test_board_fits_its_own_form_and_larger_ones(place):
    assert [form for form in FORMS if board_fits_form(form, place)] == list(FORMS[: FORMS.index(place) + 1])


def test_unknown_form_is_refused_with_the_known_ones():
    with pytest.raises(InputError, match="board form 'btx' is not known; use one of mini_itx, micro_atx, atx, eatx"):
        default_board("btx")
