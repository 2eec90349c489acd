"""METHODS.md says what the derivation does: its constants have the code's values, its relations the code's words."""

import importlib
import re
from pathlib import Path

import pytest

from advisor import engine, tape
from advisor.tape import materials
from advisor.tape.block import enclosure_of
from advisor.tape.files import read_tape_file
from advisor.tape.relations import RELATIONS
from tests.advisor.tape.machines import entry_files

TAPE = Path(tape.__file__).parent
SECTION = (
    (Path(engine.__file__).parent / "METHODS.md")
    .read_text()
    .split("## From a tape measure\n", 1)[1]
    .split("\n## ", 1)[0]
)
ROWS = [
    [cell.strip() for cell in line.strip("|").split(" | ")] for line in SECTION.splitlines() if line.startswith("| `")
]
CONSTANTS = [(row[0].strip("` "), row[1]) for row in ROWS if "." in row[0]]
TOLD = {row[0].strip("` "): row[1:3] for row in ROWS if "." not in row[0]}
UNSOURCED = re.compile(r"no source|choices? of ours|from memory|design prior")


def in_code(name: str) -> object:
    module, expression = name.split(".", 1)
    return eval(expression, vars(importlib.import_module(f"advisor.tape.{module}")))  # names of this project


@pytest.mark.parametrize(("name", "value"), CONSTANTS, ids=lambda cell: cell[:40])
def test_documented_constant_has_the_value_in_the_code(name, value):
    assert in_code(name) == eval(value, dict(vars(materials)))


def test_every_relation_is_told_in_the_codes_words():
    assert {key: [known.equation, known.source] for key, known in RELATIONS.items()} == TOLD


def test_every_relation_is_used_by_some_entry():
    used = set()
    for path in entry_files():
        (one,) = read_tape_file(path)
        used |= {(line.relation, line.source) for line in enclosure_of(one.reading.entry, "box").derived}
    unused = {key for key, known in RELATIONS.items() if (known.equation, known.source) not in used}
    assert unused <= {"supply_vent", "bay_seam"}  # no entry has a supply with a duct of its own


def constants() -> list[str]:
    """Upper-case names of the derivation's modules whose comment, above or beside, says that they have no source."""
    found, names = [], re.compile(r"^([A-Z][A-Z_0-9]*(?:, [A-Z][A-Z_0-9]*)*)(?:: [^=]+)? = ")
    for path in sorted(TAPE.glob("*.py")):
        above = ""
        for line in path.read_text().splitlines():
            match = names.match(line)
            if match and UNSOURCED.search(above):
                found += [f"{path.stem}.{name}" for name in match[1].split(", ")]
            if line.startswith("#"):
                above = f"{above} {line}"
            elif not match:
                above = ""
    return found


def test_constants_that_admit_to_have_no_source_are_many():
    assert len(constants()) > 50


@pytest.mark.parametrize("name", constants())
def test_constant_without_a_source_is_in_the_tables(name):
    assert any(told == name or told.startswith(f"{name}[") for told, _ in CONSTANTS)
