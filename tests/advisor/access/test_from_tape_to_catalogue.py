"""The whole way of own enclosures: entered by tape, offered, accepted, exported, loaded elsewhere."""

import dataclasses
import io
from datetime import UTC, datetime

import pytest
from django.conf import settings
from django.core.management import call_command

from advisor.assembly import catalogue
from catalog.built_in import ESTIMATE
from catalog.exporting import export_blocks, export_catalog
from catalog.importing.loading import load_catalog
from catalog.models import Enclosure
from catalog.offers import accept, offer

NOW = datetime(2031, 6, 1, tzinfo=UTC)
ENTRIES = sorted((settings.BASE_DIR / "fixtures" / "tape").glob("*.yaml"))


@pytest.fixture
def own(ann):
    """Every sample entry as an own enclosure of Ann's."""
    for entry in ENTRIES:
        call_command("enter_enclosure", entry, owner=ann.username, verbosity=0, stdout=io.StringIO())
    return list(Enclosure.objects.owned_by(ann))


def test_enclosures_by_tape_become_public_with_the_same_figures(own, ann, tmp_path):
    before = catalogue(ann).enclosures
    assert len(before) == len(own) == len(ENTRIES) and catalogue().enclosures == ()
    for enclosure in own:
        accept(part=offer(part=enclosure, by=ann, now=NOW), code=enclosure.code.split("-", 2)[2])
    after = catalogue().enclosures
    assert {e.code for e in after} == {e.code.split("-", 2)[2] for e in before}
    assert [dataclasses.replace(e, code="") for e in after] == [dataclasses.replace(e, code="") for e in before]
    assert ESTIMATE in {block["code"] for block in export_blocks("sources")}

    export_catalog(folder=tmp_path / "out")
    Enclosure.objects.all().delete()
    load_catalog(path=tmp_path / "out", at=NOW)
    assert catalogue().enclosures == after
