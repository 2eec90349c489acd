"""A study from brief to record: what is planned, what the merge depends on, and what it says where all builds tie."""

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest

from advisor import study
from advisor.assembly import content_hash
from advisor.engine.version import MODEL_VERSION
from advisor.reports import build_entry
from tests.engine.record import found


@pytest.fixture(scope="module")
def plan():
    return study.plan(found.brief(), found.catalogue())


@pytest.fixture(scope="module")
def outcomes(plan):
    return [study.score_chunk(plan, code) for code in plan.chunks]


@pytest.fixture(scope="module")
def record(plan, outcomes):
    return study.merge(plan, outcomes)


def test_there_is_one_chunk_an_enclosure(plan):
    assert plan.chunks == ("drive_cube", "mesh_tower", "switched_tower")
    assert (plan.model_version, plan.catalog_hash) == (MODEL_VERSION, content_hash(found.catalogue()))


def test_excluded_and_required_parts_are_planned_for():
    brief = found.brief(excluded_parts=("drive_cube",), required_parts=("card", "ssd", "warm_drive"))
    planned = study.plan(brief, found.catalogue())
    assert planned.chunks == ("mesh_tower", "switched_tower")
    assert [drive.code for drive in planned.catalogue.drives] == ["warm_drive"]
    assert planned.catalog_hash == content_hash(found.catalogue())


def test_progress_never_tells_more_than_the_chunk_holds(plan):
    for code in plan.chunks:
        told = []
        study.score_chunk(plan, code, told.append)
        assert 0 < sum(told) <= study.chunk_size(plan, code)


def test_every_candidate_is_counted(plan, record):
    counts = record["counts"]
    considered = sum(study.chunk_size(plan, code) for code in plan.chunks)
    assert counts["considered"] == considered
    assert counts["accepted"] + sum(counts["rejected"].values()) + counts["pruned"] == considered


def test_order_of_chunks_changes_nothing(plan, outcomes, record):
    assert study.merge(plan, outcomes[::-1]) == record


def test_threads_change_nothing(plan, outcomes, record):
    with ThreadPoolExecutor(2) as pool:
        assert study.merge(plan, outcomes, each=pool.map) == record


def test_entries_that_share_air_are_described_as_on_their_own(record):
    by_box = {entry["enclosure"]: entry for entry in record["shortlist"]}
    for code, entry in by_box.items():
        alone = build_entry(found.record(code))
        assert {name: entry[name] for name in alone if name != "reasons"} == {
            name: value for name, value in alone.items() if name != "reasons"
        }


def test_entries_are_sorted_by_desirability(record):
    worth = [entry["desirability"] for entry in record["shortlist"]]
    assert len(worth) == 3 and worth == sorted(worth, reverse=True)


def test_like_enclosures_tie_and_a_better_one_leads():
    towers = [replace(found.catalogue().enclosures[1], code=code) for code in ("twin_a", "twin_b")]
    dear = replace(towers[0], code="dear", price=1500.0)
    parts = replace(found.catalogue(), enclosures=(dear, *towers))
    weights = dict.fromkeys(("noise", "headroom", "airflow"), 0.1) | {"price": 10.0}
    planned = study.plan(found.brief(weights=weights), parts)
    record = study.merge(planned, [study.score_chunk(planned, code) for code in planned.chunks])
    ranks = {entry["enclosure"]: entry["rank"] for entry in record["shortlist"]}
    assert ranks == {"twin_a": 1, "twin_b": 1, "dear": 3}
    first, second, _ = record["shortlist"]
    assert (first["tied_with"], second["tied_with"]) == ([second["id"]], [first["id"]])
    assert record["notes"] == []


def test_where_all_tie_the_record_says_what_would_settle_it(plan, outcomes):
    tied = study.merge(plan, outcomes, lambda one, other: False)
    (note,) = tied["notes"]
    assert {entry["rank"] for entry in tied["shortlist"]} == {1}
    assert (
        "cannot tell these 3 builds apart" in note
        and "differ most in" in note
        and "What would settle most: measure" in note
    )


def test_where_none_tie_there_is_nothing_to_settle(plan, outcomes):
    apart = study.merge(plan, outcomes, lambda one, other: True)
    assert [entry["rank"] for entry in apart["shortlist"]] == [1, 2, 3]
    assert apart["notes"] == [] and all(entry["tied_with"] == [] for entry in apart["shortlist"])


def test_each_entry_is_compared_with_the_first(record):
    names = [entry["enclosure"] for entry in record["shortlist"]]
    assert record["shortlist"][0]["reasons"][-1].startswith(f"Against {names[1]} it")
    assert all(entry["reasons"][-1].startswith(f"Against {names[0]} it") for entry in record["shortlist"][1:])


def test_unmeetable_brief_has_counted_reasons_and_near_misses():
    brief = found.brief(noise_target_dba=6.0)
    planned = study.plan(brief, found.catalogue())
    record = study.merge(planned, [study.score_chunk(planned, code) for code in planned.chunks])
    assert record["shortlist"] == []
    assert record["counts"]["rejected"]["noise"] == record["counts"]["considered"]
    assert [miss["enclosure"] for miss in record["nearest_misses"]] != []
    for miss in record["nearest_misses"]:
        assert miss["code"] == "noise" and "raise noise_target_dba from 6 to" in miss["text"]
        assert miss["shortfalls"][0]["amount"] == pytest.approx(-miss["noise_margin_db"], rel=1e-6)


def test_parts_that_do_not_fit_are_told_without_a_computation():
    brief = found.brief(max_height_m=0.3)
    planned = study.plan(brief, found.catalogue())
    record = study.merge(planned, [study.score_chunk(planned, code) for code in planned.chunks])
    miss = record["nearest_misses"][0]
    assert miss["code"] == "too_high" and "raise max_height_mm" in miss["text"]
    assert "predictions" not in miss
    assert {line["role"] for line in miss["parts"]} >= {"enclosure", "cooler", "supply", "drive"}


def test_record_is_plain_json(record):
    assert json.loads(json.dumps(record, allow_nan=False)) == record
