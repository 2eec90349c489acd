"""The documents tell the truth about variables, commands and files."""

import re

import pytest
from django.conf import settings

README = (settings.BASE_DIR / "README.md").read_text()
DEVELOPERS = (settings.BASE_DIR / "DEVELOPERS.md").read_text()


def section(title):
    return README.split(f"## {title}\n", 1)[1].split("\n## ", 1)[0]


def table_rows(text):
    rows = [line.strip("|").split("|") for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in row] for row in rows[2:]]


def documented_variables():
    return {row[0].strip("`") for row in table_rows(section("Settings"))}


def test_example_lists_the_variables_of_readme():
    example = (settings.BASE_DIR / ".env.example").read_text()
    assert set(re.findall(r"^([A-Z_]+)=", example, flags=re.MULTILINE)) == documented_variables()


def test_settings_read_the_variables_of_readme():
    source = (settings.BASE_DIR / "advisor" / "project" / "settings.py").read_text()
    assert set(re.findall(r"env\.\w+\(\s*\"([A-Z_]+)\"", source)) == documented_variables()


@pytest.mark.parametrize("row", table_rows(section("From question to file")), ids=lambda row: row[0])
def test_file_that_answers_a_question_exists(row):
    paths = re.findall(r"`([^`]+)`", row[1])
    assert paths
    assert [path for path in paths if not (settings.BASE_DIR / path).exists()] == []


def paths_in(text):
    """Files and folders of this project that a text names, but for ``var/``, which the first run makes."""
    return sorted(set(re.findall(r"`((?:\w+/)+(?:\w+\.\w+)?)`", text)) - {"var/"})


@pytest.mark.parametrize("path", paths_in(DEVELOPERS))
def test_file_that_developers_are_sent_to_exists(path):
    rooms = (settings.BASE_DIR, settings.BASE_DIR / "advisor", settings.BASE_DIR / "advisor" / "engine")
    assert any((room / path).exists() for room in rooms)


def test_documented_commands_are_in_the_makefile():
    makefile = (settings.BASE_DIR / "Makefile").read_text()
    named = set(re.findall(r"`make (\w+)", README + DEVELOPERS))
    assert named
    assert {name for name in named if not re.search(rf"^{name}:", makefile, flags=re.MULTILINE)} == set()
