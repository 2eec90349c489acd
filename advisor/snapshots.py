"""The engine's frozen records as plain JSON and back, so that a study can keep what it was answered from.

The annotations of a dataclass say how its fields are written. Floats survive exactly (JSON carries the shortest text
that reads back as the same double), and whole numbers in float fields are written as floats, so that equal records
have equal texts and equal hashes.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import math
import types
from collections.abc import Callable
from functools import cache
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

Record = TypeVar("Record")
Codec = Callable[[Any], Any]


def record_to_json(record: Any) -> str:
    """Return a frozen record as canonical JSON: sorted keys, no spaces.

    >>> from advisor.engine.inputs import Zone
    >>> record_to_json(Zone("main", (0.1, 0.2, 1), 1.7))
    '{"code":"main","position":[0.1,0.2,1.0],"wall_u_rel":0.3,"wall_w_k":1.7}'
    """
    plain = _codec(type(record), True)(record)
    return json.dumps(plain, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def record_from_json(kind: type[Record], text: str) -> Record:
    """Return the record of a kind that ``record_to_json`` wrote.

    >>> from advisor.engine.inputs import Zone
    >>> record_from_json(Zone, '{"code":"main","position":[0.1,0.2,1.0],"wall_u_rel":0.3,"wall_w_k":1.7}')
    Zone(code='main', position=(0.1, 0.2, 1.0), wall_w_k=1.7, wall_u_rel=0.3)
    """
    return _codec(kind, False)(json.loads(text))


def content_hash(record: Any) -> str:
    """Return the SHA-256 of a record's canonical JSON, the same in every process and on every machine."""
    return hashlib.sha256(record_to_json(record).encode()).hexdigest()


@cache
def _codec(kind: Any, writing: bool) -> Codec:
    """Return the function that writes, or reads, values of an annotated type."""
    if dataclasses.is_dataclass(kind):
        return _of_dataclass(kind, writing)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        return _of_optional(arguments, writing)
    if origin is tuple:
        return _of_tuple(arguments, writing)
    if origin is dict:
        inner = _codec(arguments[1], writing)
        return lambda mapping: {str(key): inner(value) for key, value in mapping.items()}
    if kind is float:
        return _number
    if kind in (int, str, bool):
        return lambda value: value
    raise TypeError(f"a snapshot cannot hold values of type {kind!r}; use dataclasses, tuples, dicts, numbers and text")


def _number(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"a snapshot cannot hold {value}; every number must be finite")
    return float(value)


def _of_dataclass(kind: Any, writing: bool) -> Codec:
    hints = get_type_hints(kind)
    inner = {field.name: _codec(hints[field.name], writing) for field in dataclasses.fields(kind)}
    if writing:
        return lambda record: {name: codec(getattr(record, name)) for name, codec in inner.items()}

    def read(plain: dict[str, Any]) -> Any:
        unknown = plain.keys() - inner.keys()
        if unknown:
            raise ValueError(
                f"{kind.__name__} has no field {', '.join(sorted(unknown))}: the snapshot is of another version"
            )
        return kind(**{name: codec(plain[name]) for name, codec in inner.items() if name in plain})

    return read


def _of_optional(arguments: tuple[Any, ...], writing: bool) -> Codec:
    (kind,) = (argument for argument in arguments if argument is not type(None))
    inner = _codec(kind, writing)
    return lambda value: None if value is None else inner(value)


def _of_tuple(arguments: tuple[Any, ...], writing: bool) -> Codec:
    if len(arguments) == 2 and arguments[1] is Ellipsis:
        every = _codec(arguments[0], writing)
        return (lambda items: [every(item) for item in items]) if writing else lambda items: tuple(map(every, items))
    codecs = [_codec(argument, writing) for argument in arguments]
    shape: Callable[[Any], Any] = list if writing else tuple
    return lambda items: shape(codec(item) for codec, item in zip(codecs, items, strict=True))
