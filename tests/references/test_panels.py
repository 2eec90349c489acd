"""What a panel lets through of air, heat and sound, against handbooks and the fluids and ht libraries."""

import math

import fluids
import ht
import pytest

from advisor.engine.air import air_at
from advisor.engine.airflow.losses import MITRE_BEND, perforated_plate, plane_gap, slot_inlet, thick_plate
from advisor.engine.errors import InputError
from advisor.engine.noise.panels import (
    BANDS_HZ,
    band_weights,
    diffuse_shares,
    foam_absorption,
    holes,
    insertion_loss,
    mass_law,
)
from advisor.engine.thermal.walls import outer_film, plate_film, wall_transmittance

ROOM_C = 25.0


# Blevins 1984 (fluids library): square-edged screens. Idelchik's thin plate with tau at no depth lies within 15 %.
@pytest.mark.parametrize("free_share", [0.2, 0.3, 0.4, 0.45, 0.5, 0.55, 0.6])
def test_thin_plate_with_square_edges_is_near_the_other_handbook(free_share):
    assert thick_plate(free_share, 0.0) == pytest.approx(fluids.square_edge_screen(free_share), rel=0.17)


@pytest.mark.parametrize("free_share", [0.1, 0.3, 0.5])
def test_thin_plate_is_near_the_formula_for_thin_plates(free_share):
    assert thick_plate(free_share, 0.0) == pytest.approx(perforated_plate(free_share), rel=0.10)


# METHODS.md: sheet as thick as its holes has a quarter to a third less than thin sheet.
def test_thicker_sheet_loses_less():
    losses = [thick_plate(0.5, depth) for depth in (0.0, 0.3, 0.6, 1.0)]
    assert losses == sorted(losses, reverse=True)
    assert 0.25 <= 1 - losses[-1] / losses[0] <= 0.50


def test_single_hole_in_a_wide_wall_is_a_slot():
    assert thick_plate(0.02, 0.05) * 0.02**2 == pytest.approx(slot_inlet(0.001, 0.01), rel=0.05)


# fluids: sharp 90 degree turns after Rennels 1.202, Miller 1.210, Blevins 1.264.
@pytest.mark.parametrize("method", ["Rennels", "Miller", "Blevins"])
def test_sharp_turn_is_near_three_handbooks(method):
    known = fluids.fittings.bend_miter(Di=0.1, angle=90.0, Re=1e5, roughness=1e-5, method=method)
    assert pytest.approx(known, rel=0.06) == MITRE_BEND


# Shah & London: plates 6 mm apart over 147 mm at 1 m/s, Darcy friction 96/Re, pressure by hand from f L/D.
def test_gap_loses_entrance_profile_friction_and_exit():
    reynolds = 1.0 * 0.012 / 1.5e-5
    by_hand = 0.5 + 1.0 + 0.674 + 96.0 / reynolds * 0.147 / 0.012
    assert plane_gap(0.147, 0.006, 1.0, 1.5e-5) == pytest.approx(by_hand)


# Common practice, no source: a cage of 3.5-inch drives 5 to 8 mm apart loses 3 to 8 velocity heads on the gaps.
@pytest.mark.parametrize("gap_mm", [5.0, 6.0, 7.0])
def test_gap_between_drives_loses_what_the_trade_says(gap_mm):
    assert 3.0 <= plane_gap(0.147, gap_mm / 1000, 1.0, 1.52e-5) <= 8.0


@pytest.mark.parametrize("facing", ["upward", "downward"])
def test_level_plate_equals_ht(facing):
    air, rise, length = air_at(ROOM_C), 5.0, 0.1
    viscosity = air.viscosity / air.density
    grashof = 9.80665 / (ROOM_C + 273.15) * rise * length**3 / viscosity**2
    known = ht.Nu_horizontal_plate_McAdams(Pr=air.prandtl, Gr=grashof, buoyancy=facing == "upward")
    assert plate_film(rise, length, facing, ROOM_C, air) == pytest.approx(known * air.conductivity / length, rel=1e-6)


# ht, Churchill & Chu for an upright plate.
def test_upright_plate_equals_ht():
    air, rise, height = air_at(ROOM_C), 8.0, 0.4
    viscosity = air.viscosity / air.density
    grashof = 9.80665 / (ROOM_C + 273.15) * rise * height**3 / viscosity**2
    known = ht.Nu_vertical_plate_Churchill(air.prandtl, grashof) * air.conductivity / height
    assert plate_film(rise, height, "sideways", ROOM_C, air) == pytest.approx(known, rel=0.01)


# Incropera: a black room-temperature surface radiates with about 6 W/(m2 K); films outside buildings in still air
# come to 8 to 9 W/(m2 K) (ISO 6946: 1/0.13 for heat flow sideways, still air).
def test_outer_film_is_near_still_air_indoors():
    assert outer_film(5.0, 0.5, "sideways", ROOM_C, air_at(ROOM_C), 0.9) == pytest.approx(1 / 0.13, rel=0.15)


def test_thin_metal_does_not_insulate_and_foam_does():
    metal = wall_transmittance(3.5, (0.0008 / 50.0,), 8.0)
    assert metal == pytest.approx(1 / (1 / 3.5 + 1 / 8.0), rel=1e-3)
    assert wall_transmittance(3.5, (0.0008 / 50.0, 0.01 / 0.04), 8.0) < 0.7 * metal


# Beranek & Ver: field-incidence mass law TL = 20 log10(m f) - 47 dB.
@pytest.mark.parametrize(("mass", "frequency"), [(6.3, 500.0), (6.3, 2000.0), (10.0, 1000.0), (20.0, 500.0)])
def test_mass_law_meets_the_customary_line(mass, frequency):
    loss = -10 * math.log10(mass_law(mass, frequency))
    assert loss == pytest.approx(20 * math.log10(mass * frequency) - 47.0, abs=0.6)


def test_mass_law_gains_six_decibels_an_octave_and_never_amplifies():
    assert mass_law(8.0, 1000.0) / mass_law(8.0, 2000.0) == pytest.approx(4.0, rel=0.01)
    assert mass_law(0.0, 125.0) == 1.0


# Common practice, no source: open mesh hardly holds sound back (0 to 1 dBA).
@pytest.mark.parametrize("free_share", [0.4, 0.5, 0.7])
def test_mesh_lets_sound_through(free_share):
    passed = [holes(free_share, 0.003, 0.0008, band) for band in BANDS_HZ]
    assert insertion_loss(passed, [0.1] * len(BANDS_HZ)) < 1.0


# Common practice, no source: a closed panel of an enclosure holds back 6 to 15 dBA, lined ones more than bare ones.
def test_closed_steel_panel_holds_back_what_the_trade_says():
    seams = 0.002
    passed = [mass_law(0.0008 * 7850, band) + seams for band in BANDS_HZ]
    bare = insertion_loss(passed, [0.1] * len(BANDS_HZ))
    lined = insertion_loss(passed, [0.1 + foam_absorption(0.008, band) for band in BANDS_HZ])
    assert 6.0 <= bare <= 15.0
    assert bare + 2.0 < lined < 20.0


def test_more_holes_let_more_through():
    let = [holes(share, 0.003, 0.0008, 1000.0) for share in (0.02, 0.1, 0.3, 0.6, 1.0)]
    assert let == sorted(let) and let[-1] <= 1.0


def test_thicker_foam_absorbs_more_in_every_octave():
    for band in BANDS_HZ:
        absorbed = [foam_absorption(mm / 1000, band) for mm in (0, 2, 5, 10, 20)]
        assert absorbed == sorted(absorbed)


def test_octaves_and_faces_share_all_of_the_sound():
    assert band_weights().sum() == pytest.approx(1.0)
    shares = diffuse_shares({"front": 0.1, "left": 0.2}, {"front": [0.8] * 6, "left": [0.01] * 6},
                            {"front": [0.1] * 6, "left": [0.1] * 6})  # fmt: skip
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["front"] > shares["left"]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: thick_plate(0.01, 0.1), "perforated plate is 0.01"),
        (lambda: thick_plate(0.5, 11.0), "depth of a plate over its holes is 11"),
        (lambda: plane_gap(0.147, 0.02, 1.0, 1.5e-5), "Reynolds number of a gap is"),
        (lambda: holes(0.0, 0.003, 0.001, 500.0), "must be above 0"),
        (lambda: plate_film(5.0, 3.0, "upward", ROOM_C, air_at(ROOM_C)), "at most 1e10"),
        (lambda: plate_film(5.0, 0.1, "north", ROOM_C, air_at(ROOM_C)), "faces 'north'"),
    ],
)
def test_values_outside_the_handbook_are_refused(call, words):
    with pytest.raises(InputError, match=words):
        call()
