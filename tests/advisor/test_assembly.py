"""From rows to the engine's records: units, uncertainties and links, computed by hand here."""

import dataclasses
import time
from datetime import UTC, datetime

import pytest

from advisor.assembly import catalogue, content_hash
from advisor.engine import inputs
from advisor.engine.orientation import ROTATIONS
from catalog.importing.loading import load_catalog
from catalog.models import Enclosure, Fan, Supply, vocabulary
from tests.catalog.owning import make_own

QUERIES = 22  # twelve kinds of parts, enclosures and five tables inside them, sources, notes; begin and end


@pytest.fixture
def assembled(small_catalogue):
    return catalogue()


def test_a_fan_is_in_si(assembled):
    fan = assembled.fans[0]
    assert (fan.code, fan.size_m, fan.thickness_m) == ("fan-120", 0.12, 0.025)
    assert fan.curve == inputs.FanCurve(((0.0, 12.0), (0.01, 8.5), (0.025, 0.0)), 1200.0, 1.2, 9000.0)
    assert fan.sound == ((400.0, 10.5), (1200.0, 28.0))
    assert (fan.flow_u_rel, fan.sound_u_db) == (0.04, 0.8)


def test_a_switched_fan_keeps_its_steps(assembled):
    fan = assembled.fans[1]
    assert (fan.control, fan.steps_rpm, fan.may_stop, fan.life_h) == ("switch", (700.0, 1100.0, 1500.0), True, 30000.0)
    assert fan.curve.density_kg_m3 == 1.18
    assert (fan.flow_u_rel, fan.sound_u_db) == (0.08, 1.0)


def test_a_cooler_shares_one_uncertainty(assembled):
    still, tower = assembled.coolers
    assert (tower.height_m, tower.sockets) == (0.155, ("S1", "S2"))
    assert tower.r_u_rel == pytest.approx((0.03 * 0.05 + 0.01) / 0.2)
    assert (tower.sound_u_db, tower.flow_exponent_u) == (0.4, 0.02)
    assert (still.max_rpm, still.sound, still.r_u_rel) == (0.0, (), pytest.approx(0.06))


def test_a_supply_has_its_curve_and_steps(assembled):
    supply = assembled.supplies[0]
    assert (supply.length_m, supply.path_area_m2, supply.path_loss) == (0.14, 0.006, 3.0)
    assert supply.curve.points == ((0.0, 27.0), (0.02, 15.0), (120 / 3600, 0.0))
    assert (supply.speed_steps, supply.efficiency[0]) == (((0.4, 0.0), (1.0, 1.0)), (0.1, 0.8))
    assert (supply.sound, supply.sound_u_db, supply.efficiency_u) == (((0.1, 18.0), (1.0, 36.0)), 1.0, 0.006)


def test_an_own_supply_shares_its_air_with_no_other(small_catalogue, django_user_model):
    ann = django_user_model.objects.create(username="ann")
    own = make_own(Supply.objects.first(), ann)
    public = catalogue().supplies
    assert [supply.air_path for supply in catalogue(ann).supplies if supply not in public] == [own.code]
    assert own.air_path in {supply.air_path for supply in public}


def test_a_drive_takes_the_larger_uncertainty(assembled):
    (drive,) = assembled.drives
    assert (drive.surface_m2, drive.idle_sound_db, drive.seek_sound_db) == (0.038, 26.0, 30.0)
    assert drive.read_error_rate == 1e-15
    assert drive.power_u_rel == pytest.approx(0.2 / 5)


def test_heat_that_wants_air_is_of_three_kinds(assembled):
    assert [part.code for part in (*assembled.controllers, *assembled.ssds, *assembled.cards)] == [
        "hba-8",
        "ssd-1",
        "card-net",
    ]
    assert assembled.controllers[0] == inputs.AirCooledPart(
        "hba-8", "Marl Eight Ports", 10.0, 1.0, 30.0, 85.0, 110.0, 8, 1, 0.0, 0.10
    )


def test_the_other_parts_are_in_si(assembled):
    assert assembled.adapters[0].gap_area_m2 == 0.0009
    assert assembled.processors[0] == inputs.Processor("cpu-65", "Marl 65", 65.0, 0.2, 95.0, "S1", 0.10, 0.03, 150.0)
    assert assembled.boards[0].form == "micro_atx"
    assert assembled.ups_units[0].runtime == ((60.0, 90.0), (300.0, 16.0), (600.0, 5.0))


def test_only_a_blower_has_a_curve(assembled):
    blower, open_air = assembled.graphics
    assert blower.curve == inputs.FanCurve(((0.0, 150.0), (60 / 3600, 0.0)), 4000.0, 1.2, None)
    assert (open_air.curve, open_air.length_m, open_air.sound_u_db) == (None, 0.25, 0.7)


def test_an_enclosure_is_in_si(assembled):
    (tower,) = assembled.enclosures
    assert (tower.size_m, tower.cooler_height_m, tower.service.cable_space_m) == ((0.22, 0.48, 0.5), 0.165, 0.025)
    assert tower.zones == (
        inputs.Zone("front_zone", (0.11, 0.08, 0.2), 0.5, 0.1 / 0.5),
        inputs.Zone("main", (0.11, 0.3, 0.26), 2.0, 0.1 / 2),
    )
    assert (tower.supply_opening, tower.insertion_loss_db["left"], tower.insertion_loss_u) == ("psu_path", 8.0, 0.9)
    assert tower.sound_shares["front_fans"]["front"] == 0.7
    assert all(sum(shares.values()) == pytest.approx(1, abs=1e-6) for shares in tower.sound_shares.values())


def test_openings_keep_their_order_ends_and_filters(assembled):
    openings = assembled.enclosures[0].openings
    assert [opening.code for opening in openings] == ["front_fans", "cage", "bypass", "rear_fan", "psu_path", "seams"]
    front = openings[0]
    assert (front.from_zone, front.to_zone, front.position) == ("outside", "front_zone", (0.11, 0.0, 0.2))
    assert (front.area_m2, front.height_m, front.fan_size_m, front.fan_count) == (0.017, 0.24, 0.12, 2)
    assert front.filter == inputs.Filter("fine", 0.03, 9.0, 1.5, 0.10)
    assert openings[2].narrowed_beyond_m == 0.26


def test_openings_are_as_sure_as_their_source(assembled):
    areas = {opening.code: opening.area_u_rel for opening in assembled.enclosures[0].openings}
    assert areas == {"front_fans": 0.03, "cage": 0.2, "bypass": 0.2, "rear_fan": 0.2, "psu_path": 0.2, "seams": 0.4}


def test_bays_and_seats_name_their_places(assembled):
    cage, tray = assembled.enclosures[0].bay_groups
    assert (cage.opening, cage.zone, cage.gap_area_m2, cage.rows, cage.maldistribution) == (
        "cage",
        "main",
        0.0009,
        1,
        1.2,
    )
    assert (tray.opening, tray.form, tray.rows, tray.maldistribution_u) == ("", "5.25", 2, 0.07)
    processor, graphics, *_ = assembled.enclosures[0].seats
    assert (processor.fed_by, processor.preheat_u_log, graphics.fed_by) == ("", 0.2, "bypass")
    assert (graphics.cross_area_m2, graphics.preheat_u_log) == (0.026, 0.12)


def test_each_kind_is_sorted_by_code(assembled):
    for field in dataclasses.fields(inputs.Catalogue):
        codes = [part.code for part in getattr(assembled, field.name)]
        assert codes
        assert codes == sorted(codes)


def test_the_same_rows_give_the_same_hash(assembled):
    before = content_hash(assembled)
    assert content_hash(catalogue()) == before
    Fan.objects.update(power_w=1.5)
    assert content_hash(catalogue()) != before


def test_the_number_of_queries_does_not_grow(small_catalogue, django_assert_num_queries):
    with django_assert_num_queries(QUERIES):
        catalogue()
    for code in ("twin-1", "twin-2"):
        for model in (Fan, Enclosure):
            part = model.objects.first()
            part.pk, part.code = None, code
            part.save()
    Enclosure.objects.get(code="twin-1").zones.create(code="z", x_mm=1, y_mm=1, z_mm=1, wall_w_k=1)
    with django_assert_num_queries(QUERIES):
        catalogue()


def test_the_demo_catalogue_is_assembled_in_a_blink(db, settings):
    load_catalog(path=settings.BASE_DIR / "fixtures" / "catalog", at=datetime(2031, 6, 1, tzinfo=UTC))
    catalogue()
    took = []
    for _ in range(3):
        start = time.process_time()
        found = catalogue()
        took.append(time.process_time() - start)
    assert len(found.enclosures) >= 40
    assert min(took) < 0.15


def test_catalogue_and_engine_speak_the_same_words():
    assert (vocabulary.FACES, vocabulary.INNER, vocabulary.OUTSIDE) == (inputs.FACES, inputs.INNER, inputs.OUTSIDE)
    assert vocabulary.SIDES == inputs.SIDES
    assert set(vocabulary.ORIENTATIONS) == set(ROTATIONS)
