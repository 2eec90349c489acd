"""Cautions name what can hurt, and have the build's own figures."""

from dataclasses import replace

from advisor.engine.record.cautions import GENERAL, HEAVY_KG, cautions
from tests.engine.record import found


def test_general_cautions_name_every_hazard():
    said = " ".join(GENERAL).lower()
    for word in ("mains", "supply", "fans", "hot parts", "lifting", "local codes", "licensed"):
        assert word in said


def test_loaded_mass_counts_the_drives():
    record, build = found.record(), found.best()[1]
    inside = record.loaded_kg - build.case.enclosure.mass_kg
    assert 3 * 0.7 < inside < 15.0
    assert f"about {record.loaded_kg:.0f} kg" in record.cautions[0]


def test_heavy_box_is_lifted_by_two():
    light, heavy = (next(cautions(replace(found.record(), loaded_kg=kg))) for kg in (HEAVY_KG - 1, HEAVY_KG + 1))
    assert "lift it with someone" in heavy
    assert "lift it with someone" not in light


def test_hottest_part_and_wall_power_are_told():
    record = found.record()
    hottest = max(part.temperature_c.value for one in record.predictions.values() for part in one.temperatures)
    wall = max(state.wall_w for state in record.power.scenarios.values())
    said = " ".join(record.cautions)
    assert f"reaches {hottest:.0f} °C" in said and f"up to {wall:.0f} W" in said
