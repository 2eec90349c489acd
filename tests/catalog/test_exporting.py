"""Out and in again is the same."""

import pytest
from django.core.management import CommandError, call_command
from hypothesis import given
from hypothesis import strategies as st

from catalog.exporting import _inline, export_catalog
from catalog.importing.loading import catalog_digest, load_catalog
from catalog.importing.plain_yaml import read_items
from catalog.models import Enclosure, Fan, FigureNote, Maker, Source

JSON = st.recursive(
    st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" ")),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text("abc_1", min_size=1), inner, max_size=4),
)


def _clear():
    for model in (FigureNote, Enclosure):
        model.objects.all().delete()


def test_a_round_trip_changes_nothing(loaded, tmp_path, now):
    before = catalog_digest()
    export_catalog(folder=tmp_path)
    report = load_catalog(path=tmp_path, at=now)
    assert (report.total("added"), report.total("changed"), report.total("same")) == (0, 0, 21)
    assert catalog_digest() == before


def test_a_round_trip_through_an_empty_database_gives_the_same(loaded, tmp_path, now):
    before = catalog_digest()
    export_catalog(folder=tmp_path)
    _clear()
    Fan.objects.all().delete()
    assert load_catalog(path=tmp_path, at=now).total("added") == 3
    assert catalog_digest() == before


def test_the_demo_catalogue_survives_a_round_trip(db, settings, tmp_path, now):
    load_catalog(path=settings.BASE_DIR / "fixtures" / "catalog", at=now)
    before = catalog_digest()
    export_catalog(folder=tmp_path)
    assert load_catalog(path=tmp_path, at=now).total("changed") == 0
    assert catalog_digest() == before


def test_files_read_as_people_write_them(loaded, tmp_path):
    export_catalog(folder=tmp_path)
    text = (tmp_path / "drives.yaml").read_text()
    assert '  form: "3.5"\n' in text
    assert "  read_error_rate: 1.0e-15\n" in text
    assert '  uncertainty: {idle_w: 0.2, seek_w: "2 %"}\n' in text
    assert max(map(len, (tmp_path / "enclosures" / "test_tower.yaml").read_text().splitlines())) <= 120


def test_defaults_are_left_out(loaded, tmp_path):
    export_catalog(folder=tmp_path)
    assert "density_kg_m3" in (tmp_path / "fans.yaml").read_text().split("- code: fan-120-switch")[1]
    assert "life_h" not in (tmp_path / "fans.yaml").read_text().split("- code: fan-120-switch")[0]


@pytest.mark.parametrize("note", ['it\'s: a "note" # really', "true", "12", "- x", "ends: ", "ä € 漢", "null", "{a}"])
def test_any_note_survives(loaded, tmp_path, now, note):
    Maker.objects.update(note=note.strip())
    Source.objects.filter(code="sheet").update(note=note.strip())
    export_catalog(folder=tmp_path)
    assert load_catalog(path=tmp_path, at=now).total("changed") == 0


@given(JSON)
def test_any_value_reads_back_as_written(value):
    ((_, back),) = read_items(f"- {_inline(value)}")
    assert back == value
    assert type(back) is type(value) or value == int(value)


def test_the_command_writes_into_a_new_folder_only(loaded, tmp_path, capsys):
    call_command("export_catalog", str(tmp_path / "out"))
    assert capsys.readouterr().out.startswith("15 files written below")
    with pytest.raises(CommandError, match="is not empty; name a new folder"):
        call_command("export_catalog", str(tmp_path / "out"))
