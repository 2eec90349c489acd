"""Figures of the picture are those of the record."""

import pytest

from frontend.pictures.air.figures import of_build, of_housing
from tests.frontend.making import air, any_build, box, build, housing, sheets


def by_code(figures):
    return {one.code: one for one in figures.streams}


@pytest.fixture
def figures():
    return of_build(build(), "working", box())


def test_flows_and_temperatures_are_those_of_the_record(figures):
    fans = by_code(figures)["front_fans"]
    assert (fans.flow_m3s, fans.temperature_c, fans.speed_rpm, fans.fans) == (0.02, 22.0, 900.0, 1)
    assert fans.flow_u_m3s == pytest.approx(0.002)
    assert by_code(figures)["cage"].temperature_c == 22.5


def test_air_that_goes_back_comes_from_where_it_goes_to(figures):
    supply = by_code(figures)["supply_path"]
    assert supply.wrong_way and (supply.source, supply.target) == ("outside", "main")
    assert supply.flow_m3s == 0.004 and supply.temperature_c == 22.0


def test_halves_that_blow_alike_are_one_stream(figures):
    vents = [one for one in figures.streams if one.code == "vent"]
    assert [(one.half, one.flow_m3s) for one in vents] == [("", 0.024)]
    assert vents[0].flow_u_m3s == pytest.approx(0.0024)


def test_halves_that_blow_against_each_other_stay_two():
    made = build()
    flows = [("vent", "lower", "main", "outside", -3.0, False), ("vent", "upper", "main", "outside", 5.0, False)]
    made["airflow"]["working"] = air(flows, {"nose": 22.5, "main": 26.0})
    found = of_build(made, "working", box()).streams
    assert [(one.half, one.source, one.flow_m3s) for one in found] == [
        ("lower", "outside", 0.003),
        ("upper", "main", 0.005),
    ]


def test_still_air_has_no_flow_but_its_uncertainty():
    made = build()
    still = air([("vent", "", "main", "outside", 0.0, False)], {"nose": 22.0, "main": 22.0})
    still["openings"][0]["standard_uncertainty_kgs"] = 0.0012
    made["airflow"]["working"] = still
    (vent,) = of_build(made, "working", box()).streams
    assert vent.flow_m3s == 0.0 and vent.flow_u_m3s == pytest.approx(0.001)


def test_bays_say_how_many_hold_a_drive(figures):
    (bays,) = [one for one in figures.parts if one.role == "drives"]
    assert (bays.filled, bays.bays, bays.opening) == (2, 3, "cage")
    assert bays.temperature_c["value"] == 47.0


def test_numbers_run_through_with_the_seams_last(figures):
    assert [one.number for one in figures.streams] == [1, 2, 3, 4, 5]
    assert figures.streams[-1].kind == "leak"


def test_an_enclosure_alone_has_openings_without_figures():
    found = of_housing(box())
    assert found.intake_c is None and {one.flow_m3s for one in found.streams} == {None}


def test_zones_beyond_the_alphabet_keep_letters_of_their_own():
    one = box()
    many = type(one)(one.code, one.name, one.size, one.zones * 30, one.openings, one.bays, one.seats)
    letters = [zone.letter for zone in of_housing(many).zones]
    assert len(set(letters)) == 60


def test_every_flow_of_every_demo_enclosure_is_in_the_figures():
    for block in sheets():
        place = housing(block)
        made = any_build(place, turn_every=3)
        found = of_build(made, "idle", place)
        assert sum(one.flow_m3s for one in found.streams) == pytest.approx(
            sum(abs(one["flow_m3s"]) for one in made["airflow"]["idle"]["openings"])
        )
