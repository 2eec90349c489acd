"""Loss coefficients against the handbooks and the fluids library; range checks, and the library's traps avoided."""

import fluids
import pytest

from advisor.engine.airflow.losses import (
    FREE_EXIT,
    SHARP_ENTRANCE,
    grille,
    on_area,
    perforated_plate,
    slot_inlet,
    sudden_expansion,
    wire_screen,
)
from advisor.engine.errors import InputError


# Idelchik as quoted by the documentation of a public Modelica library: about 4 and about 51.
@pytest.mark.parametrize(("free_share", "printed"), [(0.5, 4.0), (0.2, 51.0)])
def test_perforated_plate_meets_the_printed_values(free_share, printed):
    assert perforated_plate(free_share) == pytest.approx(printed, rel=0.01)


# The closed form of Idelchik diagram 8-1, evaluated independently.
@pytest.mark.parametrize(
    ("free_share", "loss"),
    [(0.3, 18.5336), (0.4, 8.2317), (0.45, 5.6996), (0.55, 2.8240), (0.6, 1.9935), (0.65, 1.3970), (0.8, 0.4163)],
)
def test_perforated_plate_meets_the_closed_form(free_share, loss):
    assert perforated_plate(free_share) == pytest.approx(loss, abs=1e-4)


# Blevins 1984 (fluids library): a table of its own for square-edged screens; the two lie within 10 %.
@pytest.mark.parametrize("free_share", [0.2, 0.3, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65])
def test_two_handbooks_agree_on_perforated_plate(free_share):
    assert perforated_plate(free_share) == pytest.approx(fluids.square_edge_screen(free_share), rel=0.10)


def test_open_plate_loses_nothing():
    assert perforated_plate(1.0) == 0.0


# Modelica Standard Library, after Idelchik diagram 4-14 of 1994: another formula for the same plate. The prior on an
# opening's area is 20 %, which is 40 % in its loss: what formula is taken matters less than that.
@pytest.mark.parametrize("free_share", [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7])
def test_formulas_of_two_editions_differ_by_less_than_the_prior(free_share):
    blocked = 1.0 - free_share
    orifice = (blocked + 0.707 * blocked**0.375) ** 2 / free_share**2
    assert perforated_plate(free_share) == pytest.approx(orifice, rel=0.20)


@pytest.mark.parametrize("free_share", [0.3, 0.4, 0.5, 0.6, 0.7])
def test_grille_equals_fluids_at_the_tabulated_shares(free_share):
    assert grille(free_share) == pytest.approx(fluids.round_edge_grill(free_share), abs=1e-6)


@pytest.mark.parametrize("free_share", [0.35, 0.45, 0.55, 0.65])
def test_grille_is_near_fluids_between_the_shares(free_share):
    assert grille(free_share) == pytest.approx(fluids.round_edge_grill(free_share), rel=0.05)


# The library extrapolates to a negative loss here; a negative loss would blow air for nothing.
def test_grille_refuses_what_fluids_extrapolates():
    assert fluids.round_edge_grill(0.9) < 0.0
    with pytest.raises(InputError, match=r"grille is 0.9, outside .*0.3 to 0.7"):
        grille(0.9)


@pytest.mark.parametrize("free_share", [0.85, 0.9, 0.96, 1.0])
def test_wire_screen_equals_fluids(free_share):
    expected = fluids.round_edge_open_mesh(free_share, "round bar screen")
    assert wire_screen(free_share) == pytest.approx(expected, abs=1e-9)


# Borda and Carnot; fluids: 0.05 m into 0.10 m gives 0.5625.
@pytest.mark.parametrize("diameter_m", [0.051, 0.07, 0.10, 0.4])
def test_sudden_expansion_equals_fluids(diameter_m):
    expected = fluids.diffuser_sharp(0.05, diameter_m)
    assert sudden_expansion((0.05 / diameter_m) ** 2) == pytest.approx(expected, rel=1e-12)


def test_entrance_and_exit_equal_fluids():
    assert fluids.entrance_sharp(method="Idelchik") == SHARP_ENTRANCE
    assert fluids.exit_normal() == FREE_EXIT


# ISO 5167 (Reader-Harris & Gallagher in fluids): a small sharp orifice discharges 0.60 of its area, K = 1/C^2.
def test_thin_slot_is_near_a_sharp_orifice():
    discharge = fluids.C_Reader_Harris_Gallagher(D=0.2, Do=0.03, rho=1.204, mu=1.82e-5, m=0.01, taps="corner")
    assert slot_inlet(0.0, 0.01) == pytest.approx(discharge**-2, rel=0.05)


def test_thin_slot_is_near_a_sparse_perforated_plate():
    assert slot_inlet(0.0, 0.01) == pytest.approx(perforated_plate(0.02) * 0.02**2, rel=0.05)


def test_long_slot_is_entrance_exit_and_friction():
    assert slot_inlet(0.1, 0.01) == pytest.approx(SHARP_ENTRANCE + FREE_EXIT + 0.02 * 5.0)


# Idelchik, table of diagram 4-12 (from memory): tau 1.35, 1.10, 0.24 and 0.07 at l 0, 0.4, 1.0 and 1.6.
@pytest.mark.parametrize(("relative", "tau"), [(0.0, 1.35), (0.4, 1.10), (1.0, 0.24), (1.6, 0.07)])
def test_slot_contraction_meets_the_tabulated_values(relative, tau):
    contraction = slot_inlet(relative * 0.02, 0.01) - SHARP_ENTRANCE - FREE_EXIT - 0.02 * relative
    assert contraction == pytest.approx(tau, abs=0.07)


def test_loss_on_another_area_keeps_the_pressure():
    flow, density = 0.03, 1.2
    on_whole = perforated_plate(0.5) * density / 2 * (flow / 0.02) ** 2
    on_free = on_area(perforated_plate(0.5), 0.02, 0.01) * density / 2 * (flow / 0.01) ** 2
    assert on_free == pytest.approx(on_whole)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: perforated_plate(0.01), "perforated plate is 0.01"),
        (lambda: perforated_plate(45.0), "perforated plate is 45"),
        (lambda: grille(0.25), "grille is 0.25"),
        (lambda: wire_screen(0.8), "wire screen is 0.8"),
        (lambda: sudden_expansion(0.0), "sudden expansion is 0"),
        (lambda: slot_inlet(0.5, 0.01), "twice its width is 25"),
        (lambda: slot_inlet(0.01, 0.0), "slot width in metres is 0"),
        (lambda: slot_inlet(float("nan"), 0.01), "twice its width is nan"),
        (lambda: on_area(4.0, 0.0, 0.01), "area in square metres is 0"),
    ],
)
def test_values_outside_the_handbook_are_refused(call, words):
    with pytest.raises(InputError, match=words):
        call()
