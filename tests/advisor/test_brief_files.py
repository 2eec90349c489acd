"""Briefs in files: the samples, and files that are not what they should be."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.brief import read_brief_file

SAMPLES = sorted((Path(__file__).parents[2] / "fixtures" / "briefs").glob("*.yaml"))
NAMES = (
    "impossible",
    "quiet_workstation",
    "rack_box",
    "small_two_drive_machine",
    "ten_drive_archive_box",
    "warm_cupboard_server",
)
LEAST = "processor_watts: 65\nboard_form: atx\nnoise_target_dba: 30\ndrive_count: 1\n"


@pytest.fixture
def read(tmp_path):
    def read_content(content):
        path = tmp_path / "brief.yaml"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_brief_file(path)

    return read_content


def test_all_samples_are_there():
    assert tuple(path.stem for path in SAMPLES) == NAMES


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_sample_is_a_good_brief_and_says_it_is_invented(path):
    assert read_brief_file(path).problems == ()
    assert path.read_text().startswith("# Invented:")


def test_archive_box_asks_for_ten_drives_and_double_parity():
    brief = read_brief_file(SAMPLES[NAMES.index("ten_drive_archive_box")]).brief
    assert (brief.drive_count, brief.drive_form, brief.layout, brief.processor_watts) == (
        10,
        "3.5",
        "double_parity",
        65.0,
    )
    assert 32.0 <= brief.noise_target_dba <= 34.0


def test_plain_file_is_read(read):
    assert read(LEAST).brief.drive_count == 1


def test_byte_order_mark_is_harmless(read):
    assert read("\ufeff" + LEAST).brief.drive_count == 1


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"title: caf\xe9\n", "is not UTF-8 (byte 11)"),
        ("a: [1, 2\n", "is not such YAML: expected ',' or ']'"),
        ("# " + "x" * 64_000, "is larger than 64 kB"),
        ("a: &x [1]\nb: *x\n", "found an alias (*name) in line 2"),
        ("drive_count: 1\ndrive_count: 2\n", "found a field twice in line 2"),
        ("? [1, 2]\n: 3\n", "found a key that is no word"),
        ("a: !!python/object/apply:os.getcwd []\n", "could not determine a constructor"),
        ("title: 2024-13-45\n", "month must be in 1..12"),
        ("processor_watts: " + "9" * 5000, "is not such YAML"),
        ("a: " + "[" * 30_000, "is nested too deeply"),
        (b"a: \x00\n", "is not such YAML"),
    ],
)
def test_unreadable_content_is_one_problem(read, content, words):
    reading = read(content)
    (problem,) = reading.problems
    assert words in problem.message
    assert "a YAML file of at most 64 kB" in problem.accepted


@pytest.mark.parametrize("content", ["", "- 1\n- 2\n", "just words"])
def test_file_without_fields_is_no_mapping(read, content):
    (problem,) = read(content).problems
    assert "is not a brief; accepted: a mapping of field names to values." in problem.message


def test_date_as_a_title_is_refused_as_such(read):
    (problem,) = read(LEAST + "title: 2024-01-02\n").problems
    assert "a date is not a text" in problem.message


def test_missing_file_is_named(tmp_path):
    (problem,) = read_brief_file(tmp_path / "none.yaml").problems
    assert "none.yaml' cannot be read (No such file or directory)" in problem.message


def test_folder_is_no_file(tmp_path):
    assert "cannot be read (Is a directory)" in read_brief_file(tmp_path).problems[0].message


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200) | st.text(alphabet="abc:-[]{}&*!|>#'\"\n 0123456789.?,", max_size=80))
def test_no_content_raises(read, content):
    reading = read(content)
    assert reading.brief is None and reading.problems
