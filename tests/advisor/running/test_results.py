"""What chunks keep: small, and read back as it was found."""

import zlib
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from advisor import assembly, study
from advisor.brief import read_brief_file
from advisor.engine.inputs import Catalogue
from advisor.running.results import packed_record, packed_result, unpacked_record, unpacked_result
from advisor.snapshots import record_from_json, record_to_json
from catalog.importing.loading import load_catalog
from tests.engine.record import found

FIXTURES = Path(__file__).parents[3] / "fixtures"


def there_and_back(plan):
    """What is found in each enclosure of a plan, before and after it is kept; the plan's snapshot is read back too."""
    kept = study.plan(plan.brief, record_from_json(Catalogue, record_to_json(plan.catalogue)))
    for code in plan.chunks:
        before = study.score_chunk(plan, code)
        content = packed_result(before)
        yield before, unpacked_result(content, kept, code), content


@pytest.mark.parametrize("changes", [{}, {"noise_target_dba": 6.0}, {"max_height_m": 0.3}, {"drive_count": 0}])
def test_outcomes_survive_exactly(changes):
    plan = study.plan(found.brief(**changes), found.catalogue())
    for before, after, _ in there_and_back(plan):
        assert after == before


def test_records_from_kept_outcomes_are_the_same():
    plan = study.plan(found.brief(), found.catalogue())
    pairs = list(there_and_back(plan))
    merged = study.merge(plan, [after for _, after, _ in pairs])
    assert merged == study.merge(plan, [before for before, _, _ in pairs])
    assert unpacked_record(packed_record(merged)) == merged


@pytest.mark.slow
def test_outcomes_of_the_demo_catalogue_survive_and_are_small(db):
    load_catalog(path=FIXTURES / "catalog", at=datetime(2031, 6, 1, tzinfo=UTC))
    brief = read_brief_file(FIXTURES / "briefs" / "ten_drive_archive_box.yaml").brief
    whole = study.plan(brief, assembly.catalogue())
    some = tuple(box for box in whole.catalogue.enclosures if box.code in whole.chunks[::14])
    plan = study.plan(brief, replace(whole.catalogue, enclosures=some))
    for before, after, content in there_and_back(plan):
        assert after == before and len(content) < 5_000


def test_parts_are_kept_by_their_codes():
    plan = study.plan(found.brief(), found.catalogue())
    text = zlib.decompress(packed_result(study.score_chunk(plan, "mesh_tower"))).decode()
    assert '"cooler":"' in text and "r_solid_k_w" not in text


def test_a_part_that_the_snapshot_lacks_is_an_error():
    plan = study.plan(found.brief(), found.catalogue())
    content = packed_result(study.score_chunk(plan, "mesh_tower"))
    other = study.plan(found.brief(), replace(found.catalogue(), coolers=()))
    with pytest.raises(KeyError):
        unpacked_result(content, other, "mesh_tower")
