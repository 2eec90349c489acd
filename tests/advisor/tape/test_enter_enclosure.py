"""``manage.py enter_enclosure``: what it stores, shows and refuses."""

import io

import pytest
from django.core.management import call_command

from catalog.models import Enclosure
from tests.advisor.tape.machines import ENTRIES

SIEVE, OCTET = ENTRIES / "sieve_140.yaml", ENTRIES / "octet.yaml"


@pytest.fixture
def mara(django_user_model, db):
    return django_user_model.objects.create_user("mara", password="warm-lemon-kettle")


def run(*args, **options):
    out = io.StringIO()
    call_command("enter_enclosure", *map(str, args), stdout=out, **options)
    return out.getvalue()


def refused(capsys, *args, **options):
    err = io.StringIO()
    with pytest.raises(SystemExit) as left:
        call_command("enter_enclosure", *map(str, args), stderr=err, **options)
    assert left.value.code == 2
    return err.getvalue()


def test_it_stores_an_own_enclosure(mara):
    out = run(SIEVE, owner="mara")
    row = Enclosure.objects.owned_by(mara).get()
    assert row.code in out and row.code.endswith("-sieve-140") and "private to mara" in out


def test_preview_shows_every_figure_and_stores_nothing(db):
    out = run(OCTET, preview=True)
    assert "openings.rear_fans.area_cm2 = " in out and "Idelchik" in out and "common practice, no source" in out
    assert not Enclosure.objects.exists()


def test_all_of_a_file_is_stored_or_nothing(mara, tmp_path, capsys):
    file = tmp_path / "two.yaml"
    file.write_text(SIEVE.read_text() + OCTET.read_text().replace("height_mm: 345", "height_mm: high"))
    told = refused(capsys, file, owner="mara")
    assert "line 23: height_mm: 'high' is not a number" in told
    assert not Enclosure.objects.exists()
    file.write_text(SIEVE.read_text() * 2)
    assert "code" in refused(capsys, file, owner="mara")
    assert not Enclosure.objects.exists()


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "holds no entry"),
        (b"- {width_mm: 200}", "line 1: height_mm is missing"),
        (b"width_mm: 200", "is not a list"),
        (b"- &a {width_mm: *a}", "line 1"),
        (b"\xff\xfe", "is not UTF-8"),
        (b"- [" * 2000, "line 1"),
    ],
)
def test_files_that_cannot_be_read_are_refused(tmp_path, capsys, content, words):
    file = tmp_path / "entry.yaml"
    file.write_bytes(content)
    assert words in refused(capsys, file, preview=True)


def test_file_that_is_not_there_is_refused(tmp_path, capsys):
    assert "cannot be read" in refused(capsys, tmp_path / "none.yaml", preview=True)


def test_owner_must_be_told_and_known(db, capsys):
    assert "--owner" in refused(capsys, SIEVE)
    assert "Nobody is called 'otto'" in refused(capsys, SIEVE, owner="otto")
