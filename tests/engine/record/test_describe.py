"""What is said about a build agrees with what the search judged it by."""

import pytest

from advisor.engine.noise.levels import level
from advisor.engine.record.describe import describe
from advisor.engine.record.spot import CODES
from tests.engine.record import found

BOXES = [box.code for box in found.catalogue().enclosures]


@pytest.mark.parametrize("code", BOXES)
def test_figures_are_those_of_the_search(code):
    scored, record = found.best(code)[0], found.record(code)
    assert record.headroom_k == pytest.approx(scored.headroom_k, abs=1e-9)
    assert record.noise_margin_db == pytest.approx(scored.noise_margin_db, abs=1e-9)
    assert min(air.score for air in record.airflow.values()) == pytest.approx(scored.airflow, abs=1e-12)
    assert record.price == pytest.approx(scored.candidate.price, abs=1e-9)


@pytest.mark.parametrize("code", BOXES)
def test_headroom_of_each_kind_is_the_slack_of_the_search(code):
    record, spot = found.record(code), found.spot(code)
    for s, scenario in enumerate(CODES):
        slack = spot.settings.slack[spot.rows[s], spot.steps[s]]
        parts = record.predictions[scenario].temperatures
        assert min(part.headroom_k for part in parts) == pytest.approx(slack.min(), abs=1e-9)


@pytest.mark.parametrize("code", BOXES)
def test_noise_of_each_scenario_is_the_energy_of_the_search(code):
    record, spot = found.record(code), found.spot(code)
    for s, scenario in enumerate(CODES):
        energy = spot.settings.energy[spot.rows[s], spot.steps[s]]
        assert record.predictions[scenario].noise.noise_dba.value == pytest.approx(float(level(energy)), abs=1e-9)


def test_prices_of_parts_add_up_and_the_briefs_own_cost_nothing():
    scored, record = found.best()[0], found.record()
    bought = [line for line in record.parts if line.price is not None]
    assert sum(line.quantity * line.price for line in bought) == pytest.approx(scored.candidate.price)
    assert {line.role for line in record.parts if line.price is None} == {
        "board", "processor", "graphics", "ssd", "card",
    }  # fmt: skip


def test_parts_stand_where_they_are_used():
    record = found.record()
    places = {(line.role, line.part): (line.quantity, line.place) for line in record.parts}
    assert places["drive", found.best()[0].candidate.drive.code] == (3, "bays")
    fans = [line for line in record.parts if line.role == "intake_fan"]
    assert [line.place for line in fans] == ["front", "upper"]


def test_every_drive_has_a_bay_and_its_groups_temperature():
    record = found.record("switched_tower")
    assert [bay.bay for bay in record.bays] == ["tray 1", "tray 2", "tray 3"]
    for bay in record.bays:
        part = record.predictions[bay.scenario].warmest("drive")
        assert bay.temperature_c == part.temperature_c


def test_storage_is_that_of_the_layout():
    storage = found.record().storage
    assert (storage.drives, storage.failures_tolerated, storage.usable_tb) == (3, 1, 16.0)


def test_the_same_build_is_described_the_same_way():
    scored, build = found.best()
    assert describe(build, scored.rows, scored.steps, found.catalogue(), scored.criteria) == found.record()
