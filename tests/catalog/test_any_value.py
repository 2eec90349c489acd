"""Whatever stands anywhere in a block, the loader takes it or names it; it never breaks."""

import copy
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalog.formats import FILES
from catalog.importing.checking import Known, Parsed, check_together
from catalog.importing.parsing import BlockParser
from catalog.importing.reading import blocks_of, read_files
from catalog.importing.refusals import Place

BLOCKS, _ = blocks_of(read_files(Path(__file__).parent / "data"))
KNOWN = Known({"bench", "sheet", "guess"}, {"Marl"}, {})
VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=8)
    | st.sampled_from(["outside", "main", "3.5"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=6,
)


def _paths(value, path=()):
    yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in items:
        yield from _paths(inner, (*path, key))


def _spoilt(value, path, new):
    if not path:
        return new
    value = copy.copy(value)
    value[path[0]] = _spoilt(value[path[0]], path[1:], new)
    return value


def _refusals(block, value):
    parser = BlockParser(FILES[block.kind], Place(block.file, block.line))
    record = parser.parse(value)
    parsed = Parsed(block.kind, parser.place, record, whole=not parser.refusals)
    return [str(refusal) for refusal in (*parser.refusals, *check_together([parsed], KNOWN))]


@pytest.mark.parametrize("block", BLOCKS, ids=lambda block: f"{block.file}:{block.line}")
def test_good_blocks_are_taken(block):
    assert _refusals(block, block.value) == []


@pytest.mark.parametrize("kind", FILES)
@settings(max_examples=150)
@given(data=st.data())
def test_any_value_is_taken_or_refused_in_one_line(kind, data):
    block = data.draw(st.sampled_from([block for block in BLOCKS if block.kind == kind]))
    path = data.draw(st.sampled_from(list(_paths(block.value))))
    for line in _refusals(block, _spoilt(block.value, path, data.draw(VALUES))):
        assert line.startswith(block.file)
        assert "\n" not in line
        assert len(line) < 700
