"""METHODS.md says what the code does: its constants have the code's values, and no part of the engine is left out."""

import dataclasses
import importlib
import math
import re
from pathlib import Path

import pytest

from advisor import engine

ENGINE = Path(engine.__file__).parent
METHODS = (ENGINE / "METHODS.md").read_text()
# What a comment beside a constant says where the value is nobody's finding.
UNSOURCED = re.compile(r"estimate|no source|choices? of ours|from memory|an assumption|design prior")


def assumption_rows():
    text = METHODS.split("## Assumptions and limits\n", 1)[1].split("\n## ", 1)[0]
    rows = [
        [cell.strip() for cell in line.strip("|").split("|")] for line in text.splitlines() if line.startswith("| `")
    ]
    return [(name, row[1], row[-1]) for row in rows for name in re.findall(r"`([^`]+)`", row[0])]


def value_in_code(name):
    """The value of ``package.module.NAME``, of an item or attribute below it, or of a record's default."""
    module, expression = re.fullmatch(r"([a-z_.]+)\.(_?[A-Z].*)", name).groups()
    owner, _, field = expression.rpartition(".")
    space = vars(importlib.import_module(f"advisor.engine.{module}"))
    if isinstance(space.get(owner), type):
        return next(one.default for one in dataclasses.fields(space[owner]) if one.name == field)
    return eval(expression, space)  # names come from a file of this project


@pytest.mark.parametrize(("name", "value", "origin"), assumption_rows(), ids=lambda cell: cell)
def test_documented_assumption_has_the_value_in_the_code(name, value, origin):
    assert value_in_code(name) == eval(value, {"inf": math.inf})


@pytest.mark.parametrize(("name", "value", "origin"), assumption_rows(), ids=lambda cell: cell)
def test_documented_assumption_says_where_it_comes_from(name, value, origin):
    assert re.fullmatch(r"practice|estimate|choice|from memory|\[\d+\]|.*(manual|AMCA).*", origin)


def unsourced_constants(path):
    """Names of module constants whose comment, above or beside them, says that they have no source."""
    above = ""
    for line in path.read_text().splitlines():
        code, _, beside = line.partition("#")
        constant = re.match(r"(_?[A-Z][A-Z_0-9]*)\b.*=", code)
        if constant and UNSOURCED.search(above + beside):
            yield constant[1]
        above = f"{above} {beside}" if line.startswith("#") else ""


def all_unsourced():
    modules = {path: ".".join(path.relative_to(ENGINE).with_suffix("").parts) for path in sorted(ENGINE.rglob("*.py"))}
    return [f"{module}.{name}" for path, module in modules.items() for name in unsourced_constants(path)]


def test_some_constants_admit_that_they_have_no_source():
    assert {"airflow.elements.FLOOR_SHARE", "thermal.convection.STILL_AIR_SHARE"} <= set(all_unsourced())


@pytest.mark.parametrize("name", all_unsourced())
def test_constant_without_a_source_is_in_the_table(name):
    listed = [row for row, _, _ in assumption_rows()]
    assert any(row == name or row.startswith((f"{name}.", f"{name}[")) for row in listed)


def rooms():
    """Packages and modules at the top of the engine, as METHODS.md names them."""
    packages = {f"{path.parent.name}/" for path in ENGINE.glob("*/__init__.py")}
    return sorted(
        packages | {path.name for path in ENGINE.glob("*.py") if path.name not in ("__init__.py", "warm_up.py")}
    )


@pytest.mark.parametrize("room", rooms())
def test_every_room_of_the_engine_is_mentioned(room):
    assert f"`{room}" in METHODS


def test_files_that_it_names_exist():
    named = set(re.findall(r"`([a-z_/]+(?:/|\.py))`", METHODS))
    root = ENGINE.parent.parent
    assert named
    assert [path for path in named if not (ENGINE / path).exists() and not (root / path).exists()] == []
