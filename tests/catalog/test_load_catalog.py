"""Loading: all of it or nothing, every bad value named, and the second time nothing to do."""

import pytest
from django.core.management import CommandError, call_command

from catalog.built_in import BUILT_IN
from catalog.importing.loading import catalog_digest, load_catalog
from catalog.importing.refusals import LoadRefused
from catalog.models import CatalogLoad, Controller, Cooler, Enclosure, Fan, FigureNote, Maker, Opening, Source, Zone


def _counts(report):
    return tuple(report.total(what) for what in ("added", "changed", "removed", "same"))


def test_it_loads_every_kind(load):
    assert _counts(load()) == (21, 0, 0, 0)
    assert Fan.objects.get(code="fan-120").curve_points_m3h_pa == [[0.0, 12.0], [36.0, 8.5], [90.0, 0.0]]
    opening = Opening.objects.get(code="front_fans")
    assert (opening.from_zone, opening.to_zone.code, opening.filter_class) == (None, "front_zone", "fine")


def test_it_keeps_notes_on_figures(load):
    load()
    notes = {note.figure: (note.source_id, note.uncertainty, note.relative) for note in FigureNote.objects.all()}
    assert notes["curve"] == (None, 0.04, True)
    assert notes["sound_rpm_dba"] == (None, 0.4, False)
    assert notes["openings.front_fans"] == ("bench", None, False)


def test_loading_again_reads_nothing(load, folder):
    load()
    again = load()
    assert again.unread
    assert _counts(again) == (0, 0, 0, 0)
    assert CatalogLoad.objects.count() == 1


def test_loading_again_by_other_files_changes_nothing(load, edit):
    load()
    edit("fans.yaml", "price: 12.5", "price: 12.50")
    assert _counts(load()) == (0, 0, 0, 21)


def test_an_edit_made_elsewhere_is_undone(load):
    load()
    Fan.objects.update(price=1)
    assert _counts(load()) == (0, 2, 0, 19)
    assert Fan.objects.get(code="fan-120").price == 12.5


def test_a_change_reaches_the_row_under_its_old_key(load, edit):
    load()
    key, opening = Enclosure.objects.get().pk, Opening.objects.get(code="rear_fan").pk
    edit("enclosures/test_tower.yaml", "area_cm2: 85", "area_cm2: 90")
    assert _counts(load()) == (0, 1, 0, 20)
    assert Enclosure.objects.get().pk == key
    assert Opening.objects.get(pk=opening).area_cm2 == 90


def test_what_was_inside_an_enclosure_goes_with_its_line(load, edit):
    load()
    edit("enclosures/test_tower.yaml", "narrowed_beyond_mm: 260, narrowed_share: 0.25}", "two_way: true}")
    edit("enclosures/test_tower.yaml", "code: bypass", "code: slit")
    edit("enclosures/test_tower.yaml", "fed_by: bypass", "fed_by: slit")
    load()
    assert sorted(Opening.objects.values_list("code", flat=True)) == [
        "cage", "front_fans", "psu_path", "rear_fan", "seams", "slit",
    ]  # fmt: skip
    assert Enclosure.objects.get().seats.get(role="graphics").fed_by.code == "slit"


def test_the_supply_may_move_to_another_opening(load, edit):
    load()
    edit("enclosures/test_tower.yaml", "code: psu_path, kind: supply", "code: psu_path, kind: vent")
    edit("enclosures/test_tower.yaml", "code: bypass, kind: passage", "code: bypass, kind: supply")
    edit("enclosures/test_tower.yaml", "supply_opening: psu_path", "supply_opening: bypass")
    load()
    assert Enclosure.objects.get().supply_opening == "bypass"


def test_parts_that_files_no_longer_name_are_kept(load, folder):
    load()
    (folder / "controllers.yaml").unlink()
    load()
    assert Controller.objects.count() == 1


def test_prune_removes_what_no_file_names(load, folder, edit):
    load()
    (folder / "controllers.yaml").unlink()
    (folder / "enclosures" / "test_tower.yaml").unlink()
    report = load(prune=True)
    assert report.total("removed") == 2
    assert not Controller.objects.exists()
    assert not Zone.objects.exists()
    assert not FigureNote.objects.filter(figure="insertion_loss_db").exists()


def test_prune_removes_sources_that_nothing_rests_on(load, folder):
    load()
    for file in ("coolers", "graphics"):
        (folder / f"{file}.yaml").unlink()
    (folder / "sources.yaml").write_text((folder / "sources.yaml").read_text().replace("code: guess", "code: hunch"))
    for path in folder.rglob("*.yaml"):
        path.write_text(path.read_text().replace("source: guess", "source: hunch").replace(": guess", ": hunch"))
    load(prune=True)
    assert set(Source.objects.values_list("code", flat=True)) == {"bench", "sheet", "hunch", *BUILT_IN["sources"]}


def test_one_file_is_enough_when_it_needs_no_other(load, folder, edit, now):
    load()
    edit("fans.yaml", "price: 9", "price: 8")
    assert _counts(load_catalog(path=folder / "fans.yaml", at=now)) == (0, 1, 0, 1)


def test_makers_come_with_the_parts_where_no_file_lists_them(load, folder):
    (folder / "makers.yaml").unlink()
    load()
    assert list(Maker.objects.values_list("code", "name")) == [("marl", "Marl"), ("own", "Own")]
    assert load().unread


def test_every_bad_value_is_listed_and_nothing_loaded(edit, refusals):
    old = "size_mm: 120\n  thickness_mm: 25\n  curve: {speed_rpm: 1200"
    edit("fans.yaml", old, "size_mm: 9000\n  curve: {speed_rpm: fast")
    edit("fans.yaml", "control: switch", "control: magic")
    edit("coolers.yaml", "r_air_k_w: 0.15", "r_air_k_w: -1")
    edit("drives.yaml", 'form: "3.5"', "form: 3.5")
    edit("enclosures/test_tower.yaml", "to: main, position_mm: [110, 160, 400]", "to: mian, position_mm: [110, 160]")
    lines = refusals()
    assert (
        "fans.yaml line 1, fan 'fan-120': size_mm: 9000 is out of range; accepted: a number from 20 to 400 mm" in lines
    )
    assert "fans.yaml line 1, fan 'fan-120': thickness_mm: is missing; accepted: a number from 5 to 120 mm" in lines
    for part in (
        "fan-120': curve.speed_rpm: 'fast' is not a number",
        "fan-120-switch': control: 'magic' is not known; accepted: one of temperature, switch",
        "cooler-tower': r_air_k_w: -1 is out of range; accepted: a number above 0 and to 20 K/W",
        "drive-8': form: 3.5 is a number: put it in quotes",
        "tower': openings.bypass.position_mm: [110, 160] is not such a list; accepted: a list of 3 numbers",
        "tower': openings.bypass.to: 'mian' is not one of its zones; accepted: front_zone, main, outside",
    ):
        assert any(part in line for line in lines), part
    assert len(lines) == 8
    assert not Fan.objects.exists()
    assert Source.objects.count() == len(BUILT_IN["sources"])


def test_a_code_of_another_kind_that_is_loaded_is_refused(load, edit, refusals):
    load()
    edit("fans.yaml", "code: fan-120\n", "code: cooler-still\n")
    edit("coolers.yaml", "code: cooler-still\n", "code: cooler-calm\n")
    assert any("'cooler-still' is already loaded as one of the coolers" in line for line in refusals())


def test_a_file_that_is_no_catalogue_file_is_refused(folder, refusals):
    (folder / "fnas.yaml").write_text("[]")
    assert refusals() == ["fnas.yaml: is not a file of a catalogue; accepted: did you mean 'fans'?"]


def test_a_file_in_another_encoding_is_refused_with_its_line(folder, refusals):
    (folder / "fans.yaml").write_bytes("- code: x\n  name: Lüfter\n".encode("latin-1"))
    assert refusals() == ["fans.yaml line 2: is not UTF-8 text at byte 19: save the file as UTF-8"]


def test_a_link_to_nowhere_is_refused(folder, refusals):
    (folder / "fans.yaml").unlink()
    (folder / "fans.yaml").symlink_to(folder / "gone")
    assert refusals() == ["fans.yaml: cannot be read: No such file or directory"]


def test_a_missing_folder_is_refused(tmp_path, db, now):
    with pytest.raises(LoadRefused, match="nowhere: cannot be read: No such file or directory"):
        load_catalog(path=tmp_path / "nowhere", at=now)


def test_an_empty_folder_is_refused(tmp_path, db, now):
    with pytest.raises(LoadRefused, match="has no catalogue files"):
        load_catalog(path=tmp_path, at=now)


def test_one_file_is_never_pruned_by(folder, db, now):
    with pytest.raises(LoadRefused, match="prune only with the whole folder"):
        load_catalog(path=folder / "fans.yaml", at=now, prune=True)


def test_a_failing_write_leaves_everything_as_it_was(load, edit, monkeypatch):
    load()
    before = catalog_digest()
    edit("sources.yaml", "bench: Test bench", "bench: Other bench")

    def fail(*args, **kwargs):
        raise RuntimeError("disk full")

    edit("coolers.yaml", "price: 40", "price: 41")
    monkeypatch.setattr(Cooler, "save", fail)
    with pytest.raises(RuntimeError):
        load()
    assert catalog_digest() == before


def test_the_command_answers_with_counts(db, folder, capsys):
    call_command("load_catalog", str(folder))
    assert capsys.readouterr().out.endswith("21 added, 0 changed, 0 removed\n")
    call_command("load_catalog", str(folder))
    assert capsys.readouterr().out.startswith("0 added, 0 changed, 0 removed")


def test_the_command_ends_with_code_two_on_bad_data(db, folder, edit):
    edit("fans.yaml", "price: 9", "price: lots")
    with pytest.raises(CommandError, match="1 refused, nothing was loaded\nfans.yaml") as caught:
        call_command("load_catalog", str(folder))
    assert caught.value.returncode == 2


def test_the_demo_catalogue_loads(db, settings, now):
    report = load_catalog(path=settings.BASE_DIR / "fixtures" / "catalog", at=now)
    assert report.changes["enclosures"].added >= 40
    assert report.changes["fans"].added >= 40
