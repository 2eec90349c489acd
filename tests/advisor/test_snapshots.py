"""Frozen records as text and back."""

import dataclasses
import json
import math
import subprocess
import sys
from types import NoneType, UnionType
from typing import get_args, get_origin, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.assembly import catalogue
from advisor.engine import inputs
from advisor.snapshots import content_hash, record_from_json, record_to_json

FLOATS = st.floats(allow_nan=False, allow_infinity=False)


def _any_of(kind):
    """Values of an annotated type, of every shape the engine's records have."""
    origin, arguments = get_origin(kind), get_args(kind)
    if dataclasses.is_dataclass(kind):
        return st.builds(kind, **{name: _any_of(hint) for name, hint in get_type_hints(kind).items()})
    if origin is UnionType:
        return st.none() | _any_of(next(a for a in arguments if a is not NoneType))
    if origin is tuple and arguments[-1] is Ellipsis:
        return st.lists(_any_of(arguments[0]), max_size=2).map(tuple)
    if origin is tuple:
        return st.tuples(*map(_any_of, arguments))
    if origin is dict:
        return st.dictionaries(st.text(max_size=4), _any_of(arguments[1]), max_size=2)
    return {float: FLOATS, int: st.integers(), str: st.text(max_size=5), bool: st.booleans()}[kind]


RECORDS = [
    inputs.Enclosure,
    inputs.Fan,
    inputs.Cooler,
    inputs.Supply,
    inputs.Drive,
    inputs.Graphics,
    inputs.Ups,
    inputs.Brief,
]


@pytest.mark.parametrize("kind", RECORDS)
@settings(max_examples=30)
@given(data=st.data())
def test_any_record_survives_exactly(kind, data):
    record = data.draw(_any_of(kind))
    text = record_to_json(record)
    back = record_from_json(kind, text)
    assert back == record
    assert record_to_json(back) == text


def test_a_whole_catalogue_survives_exactly(small_catalogue):
    before = catalogue()
    back = record_from_json(inputs.Catalogue, record_to_json(before))
    assert back == before
    assert content_hash(back) == content_hash(before)


def test_the_text_is_canonical():
    zone = inputs.Zone("ä", (0.1, 0.2, 0.30000000000000004), 1.7)
    assert (
        record_to_json(zone) == '{"code":"ä","position":[0.1,0.2,0.30000000000000004],"wall_u_rel":0.3,"wall_w_k":1.7}'
    )


def test_whole_numbers_hash_as_the_floats_they_equal():
    assert content_hash(inputs.Zone("a", (1, 2, 3), 4)) == content_hash(inputs.Zone("a", (1.0, 2.0, 3.0), 4.0))


def test_the_hash_is_the_same_in_another_process():
    code = (
        "from advisor.engine.inputs import Zone; from advisor.snapshots import content_hash;"
        "print(content_hash(Zone('a', (1.0, 2.0, 3.0), 4.0)))"
    )
    other = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert other.stdout.strip() == content_hash(inputs.Zone("a", (1.0, 2.0, 3.0), 4.0))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_refused(value):
    with pytest.raises(ValueError, match="every number must be finite"):
        record_to_json(inputs.Zone("a", (0.0, 0.0, 0.0), value))


def test_a_field_of_another_version_is_refused():
    plain = json.loads(record_to_json(inputs.Zone("a", (0.0, 0.0, 0.0), 1.0))) | {"colour": "red"}
    with pytest.raises(ValueError, match="Zone has no field colour: the snapshot is of another version"):
        record_from_json(inputs.Zone, json.dumps(plain))


def test_a_field_with_a_default_may_be_missing():
    assert record_from_json(inputs.Zone, '{"code":"a","position":[0,0,0],"wall_w_k":1}').wall_u_rel == 0.3


def test_a_position_of_another_length_is_refused():
    with pytest.raises(ValueError, match="argument"):
        record_from_json(inputs.Zone, '{"code":"a","position":[0,0],"wall_w_k":1}')


def test_other_types_are_refused():
    @dataclasses.dataclass(frozen=True)
    class Odd:
        values: set[int]

    with pytest.raises(TypeError, match="a snapshot cannot hold values of type"):
        record_to_json(Odd({1}))
