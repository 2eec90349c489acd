"""The record of a study has the names that the REST contract fixes, and sizes that a database can hold."""

import json
import math

import pytest

from advisor import study
from advisor.engine.fit import ORDER
from advisor.engine.inputs import SCENARIOS
from advisor.reports.plain import plain
from advisor.reports.terminal import REASONS, WIDTH, study_text
from tests.engine.record import found

ENTRY = {
    "id", "url", "rank", "tied_with", "desirability", "criteria", "parts", "price", "settings", "predictions", "ends",
    "headroom_k", "noise_margin_db", "airflow", "bays", "power", "storage", "reasons", "alternatives",
}  # fmt: skip


@pytest.fixture(scope="module")
def record():
    return made(found.brief())


def made(brief):
    plan = study.plan(brief, found.catalogue())
    return study.merge(plan, [study.score_chunk(plan, code) for code in plan.chunks])


@pytest.fixture(scope="module")
def entry(record):
    return record["shortlist"][0]


def test_study_has_the_names_of_the_contract(record):
    assert record.keys() >= {
        "status", "progress", "counts", "nearest_misses", "shortlist", "model_version", "catalog_hash",
    }  # fmt: skip
    assert record["status"] == "done" and record["progress"] == {"done": 3, "total": 3}
    assert record["counts"].keys() == {"considered", "accepted", "rejected", "pruned"}


def test_entry_has_the_names_of_the_contract(entry):
    assert entry.keys() >= ENTRY
    assert entry["parts"][0].keys() >= {"role", "part", "quantity", "place"}


def test_predictions_have_a_value_and_its_uncertainty_in_each_scenario(entry):
    assert tuple(entry["predictions"]) == SCENARIOS
    for prediction in entry["predictions"].values():
        for name in ("processor_c", "graphics_c", "drive_c", "noise_dba"):
            assert prediction[name].keys() == {"value", "standard_uncertainty"}
            assert prediction[name]["standard_uncertainty"] > 0


def test_settings_go_by_scenario_and_group(entry):
    for groups in entry["settings"].values():
        assert tuple(groups) == ("intake", "exhaust", "cooler")
    cooler = entry["settings"]["idle"]["cooler"]
    assert cooler["fans"] == {"cooler": cooler["speed_rpm"]}


def test_ends_have_settings_noise_and_headroom(entry):
    assert entry["ends"].keys() == {"quietest", "coolest"}
    for end in entry["ends"].values():
        assert end.keys() == {"settings", "noise_dba", "headroom_k"}


def test_airflow_goes_by_zone_and_opening(entry):
    for air in entry["airflow"].values():
        assert air["zones"][0].keys() == {"code", "pressure_pa", "temperature_c", "fresh_share"}
        assert air["openings"][0].keys() >= {"code", "from", "to", "mass_flow_kgs", "flow_m3s", "reversed"}


def test_alternatives_are_described_but_for_flows_and_ways_of_sound(record):
    alternatives = [one for entry in record["shortlist"] for one in entry["alternatives"]]
    assert alternatives
    for one in alternatives:
        assert one.keys() >= ENTRY - {"rank", "tied_with", "alternatives"}
        assert "openings" not in one["airflow"]["idle"] and one["airflow"]["idle"]["zones"]
        assert "noise_sources" not in one["predictions"]["idle"] and one["predictions"]["idle"]["noise_dba"]


def test_a_build_without_graphics_board_has_no_temperature_for_it():
    brief = found.brief(graphics_count=0, graphics_watts=0.0, graphics_length_m=0.0, graphics_slots=0)
    assert made(brief)["shortlist"][0]["predictions"]["idle"]["graphics_c"] is None


def test_a_full_list_stays_below_three_megabytes(record):
    entry = record["shortlist"][0]
    one = len(json.dumps({name: value for name, value in entry.items() if name != "alternatives"}))
    other = max(len(json.dumps(a)) for e in record["shortlist"] for a in e["alternatives"])
    # 20 entries with 5 alternatives each
    assert 20 * (one + 5 * other) < 3_000_000


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_without_a_text_is_an_error(value):
    with pytest.raises(ValueError, match="every number must be finite"):
        plain({"deep": [value]})


def test_numbers_keep_seven_digits():
    assert plain([123456.789, 1.23456789e-9, 7, True, None]) == [123456.8, 1.234568e-09, 7, True, None]


def test_table_fits_its_width(record):
    lines = study_text(record | {"notes": ["long words " * 30]}).splitlines()
    assert [line for line in lines if len(line) > WIDTH] == []


def test_table_shows_every_entry_with_its_figures(record):
    text = study_text(record)
    for entry in record["shortlist"]:
        (line,) = [
            line for line in text.splitlines() if line[6:].startswith(f"{entry['enclosure']} ") and " / " in line
        ]
        working = entry["predictions"]["working"]["noise_dba"]
        assert f"{working['value']:.1f} ± {working['standard_uncertainty']:.1f}" in line
        assert f"{entry['price']:.0f} EUR" in line and line.endswith(f"{entry['desirability']:.2f}")
        assert line.split()[0] == f"{entry['rank']}{'=' if ranks(record).count(entry['rank']) > 1 else ''}"


def ranks(record):
    return [entry["rank"] for entry in record["shortlist"]]


def test_table_shows_counts_cautions_and_notes(record):
    text = " ".join(study_text(record | {"notes": ["A note on ties."]}).split())
    counts = record["counts"]
    assert f"{counts['considered']} builds considered in 3 enclosures: {counts['accepted']} accepted" in text
    assert "Mains power:" in text and "A note on ties." in text


def test_table_of_an_unmeetable_brief_tells_reasons_and_near_misses():
    text = study_text(made(found.brief(noise_target_dba=6.0)))
    assert "No build keeps every limit." in text
    assert "too loud" in text and "raise noise_target_dba from 6 to" in " ".join(text.split())


def test_every_reason_for_a_rejection_has_words():
    assert set(REASONS) == set(ORDER)
    assert max(map(len, REASONS.values())) <= 33


def test_shares_of_noise_add_up_by_source_and_by_face(entry):
    for prediction in entry["predictions"].values():
        for name in ("noise_by_source", "noise_by_face"):
            assert sum(prediction[name].values()) == pytest.approx(1.0, abs=1e-5)
        listed = {one["source"] for one in prediction["noise_sources"]}
        assert listed <= set(prediction["noise_by_source"])


def test_air_says_how_warm_it_comes_in(entry):
    assert {air["intake_c"] for code, air in entry["airflow"].items() if code != "hot_day"} == {found.brief().ambient_c}
    assert entry["airflow"]["hot_day"]["intake_c"] == found.brief().hot_day_c
