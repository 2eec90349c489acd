"""Sources and a maker that every catalogue has."""

import pytest
from django.contrib.auth.models import User
from django.core.management import call_command

from catalog.built_in import BUILT_IN, ESTIMATE, OWN_MAKER
from catalog.exporting import export_blocks, export_catalog
from catalog.importing.loading import load_catalog
from catalog.models import Adapter, Fan, FigureNote, Maker, Source
from tests.catalog.owning import make_own


def _codes(model):
    return set(model.objects.values_list("code", flat=True))


def _use_by(part):
    part.source_id, part.maker_id = ESTIMATE, OWN_MAKER
    part.save()


def test_an_empty_catalogue_has_them(db):
    assert _codes(Source) == set(BUILT_IN["sources"]) and _codes(Maker) == set(BUILT_IN["makers"])


def test_an_emptied_database_gets_them_again(db):
    Source.objects.all().delete()
    call_command("migrate", verbosity=0)
    assert _codes(Source) == set(BUILT_IN["sources"])


def test_pruning_leaves_them(load):
    load()
    load(prune=True)
    assert set(BUILT_IN["sources"]) < _codes(Source) and set(BUILT_IN["makers"]) < _codes(Maker)


def test_they_are_exported_only_where_a_public_part_rests_on_them(loaded):
    user = User.objects.create(username="ann")
    _use_by(make_own(Fan.objects.first(), user))
    assert ESTIMATE not in {block["code"] for block in export_blocks("sources")}
    assert [block["name"] for block in export_blocks("makers")] == ["Marl"]
    _use_by(Fan.objects.public().first())
    assert ESTIMATE in {block["code"] for block in export_blocks("sources")}
    assert OWN_MAKER in {block["name"] for block in export_blocks("makers")}


def test_a_note_is_a_use_of_them(loaded):
    FigureNote.objects.filter(figure="sound_rpm_dba").update(source=ESTIMATE)
    assert ESTIMATE in {block["code"] for block in export_blocks("sources")}


def test_exported_ones_load_again_without_a_change(loaded, tmp_path, now):
    _use_by(Fan.objects.public().first())
    export_catalog(folder=tmp_path / "out")
    report = load_catalog(path=tmp_path / "out", at=now)
    assert [report.total(what) for what in ("added", "changed", "removed")] == [0, 0, 0]


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("sources", "code: guess, kind: estimated", f"code: {ESTIMATE}, kind: declared", f"'{ESTIMATE}' is built in"),
        ("sources", "code: guess", "code: own-guess", "begins with own-, as only own parts do"),
        ("makers", "code: marl, name: Marl", "code: own, name: Marl", "code: 'own' is built in and says otherwise"),
        ("makers", "name: Marl", f"name: {OWN_MAKER}", "name: 'Own' is built in and says otherwise"),
    ],
)
def test_files_cannot_say_otherwise(edit, refusals, file, old, new, said):
    edit(f"{file}.yaml", old, new)
    assert any(said in text for text in refusals())


def test_a_file_may_name_them_unlisted(load, edit):
    edit("adapters.yaml", "maker: Marl, source: guess", f"maker: {OWN_MAKER}, source: {ESTIMATE}")
    load()
    assert load(prune=True).total("removed") == 0
    assert Adapter.objects.get().source.note == BUILT_IN["sources"][ESTIMATE]["note"]


def test_pruning_leaves_what_own_parts_rest_on(load, folder, edit):
    load()
    own = make_own(Adapter.objects.first(), User.objects.create(username="ann"))
    (folder / "adapters.yaml").unlink()
    edit("sources.yaml", "- {code: guess, kind: estimated}", "")
    for path in folder.rglob("*.yaml"):
        path.write_text(path.read_text().replace("source: guess", "source: sheet").replace(": guess", ": sheet"))
    load(prune=True)
    assert "guess" in _codes(Source) and [*Adapter.objects.all()] == [own]
    own.delete()
    load(prune=True)
    assert "guess" not in _codes(Source)
