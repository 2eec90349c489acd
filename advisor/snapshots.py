"""The engine's frozen records as plain JSON and back, so that a study can keep what it was answered from and found.

The annotations of a dataclass say how its fields are written, but for types that the caller has a word for: parts are
written as their codes where the catalogue is kept beside. Floats survive exactly (JSON carries the shortest text
that reads back as the same double), and whole numbers in float fields are written as floats, so that equal records
have equal texts and equal hashes.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import math
import types
from collections.abc import Callable, Mapping
from functools import cache
from operator import index
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

Record = TypeVar("Record")
Codec = Callable[[Any], Any]
Words = Mapping[type, Codec]
NO_WORDS: Words = {}


def record_to_json(record: Any, words: Words = NO_WORDS) -> str:
    """Return a frozen record as canonical JSON: sorted keys, no spaces.

    ``words`` says how values of some types are written instead.

    >>> from advisor.engine.inputs import Zone
    >>> record_to_json(Zone("main", (0.1, 0.2, 1), 1.7))
    '{"code":"main","position":[0.1,0.2,1.0],"wall_u_rel":0.3,"wall_w_k":1.7}'
    """
    plain = _codec(type(record), True, words)(record)
    return json.dumps(plain, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def record_from_json(kind: type[Record], text: str | bytes, words: Words = NO_WORDS) -> Record:
    """Return the record of a kind that ``record_to_json`` wrote; ``words`` reads back what its ``words`` wrote.

    >>> from advisor.engine.inputs import Zone
    >>> record_from_json(Zone, '{"code":"main","position":[0.1,0.2,1.0],"wall_u_rel":0.3,"wall_w_k":1.7}')
    Zone(code='main', position=(0.1, 0.2, 1.0), wall_w_k=1.7, wall_u_rel=0.3)
    """
    return _codec(kind, False, words)(json.loads(text))


def content_hash(record: Any) -> str:
    """Return the SHA-256 of a record's canonical JSON, the same in every process and on every machine."""
    return text_hash(record_to_json(record))


def text_hash(text: str) -> str:
    """Return the SHA-256 of a text, such as a record's canonical JSON."""
    return hashlib.sha256(text.encode()).hexdigest()


def _codec(kind: Any, writing: bool, words: Words) -> Codec:
    """Return the function that writes, or reads, values of an annotated type; words hold for one call each."""
    return _Codecs(writing, words).of(kind) if words else _plain_codec(kind, writing)


@cache
def _plain_codec(kind: Any, writing: bool) -> Codec:
    return _Codecs(writing, NO_WORDS).of(kind)


class _Codecs:
    """Functions that write, or read, values of annotated types, each made once."""

    def __init__(self, writing: bool, words: Words) -> None:
        self.writing = writing
        self.known: dict[Any, Codec] = dict(words)

    def of(self, kind: Any) -> Codec:
        """Return the function of a type."""
        if kind not in self.known:
            self.known[kind] = self._made(kind)
        return self.known[kind]

    def _made(self, kind: Any) -> Codec:
        origin, arguments = get_origin(kind), get_args(kind)
        if dataclasses.is_dataclass(kind):
            return self._of_dataclass(kind)
        if origin in (Union, types.UnionType):
            return self._of_optional(arguments)
        if origin is tuple:
            return self._of_tuple(arguments)
        if origin in (dict, Mapping):
            inner = self.of(arguments[1])
            return lambda mapping: {str(key): inner(value) for key, value in mapping.items()}
        if kind is float:
            return _number
        if kind is int:
            return index  # numpy's whole numbers too
        if kind in (str, bool):
            return lambda value: value
        raise TypeError(
            f"a snapshot cannot hold values of type {kind!r}; use dataclasses, tuples, dicts, numbers and text"
        )

    def _of_dataclass(self, kind: Any) -> Codec:
        hints = get_type_hints(kind)
        inner = {field.name: self.of(hints[field.name]) for field in dataclasses.fields(kind)}
        if self.writing:
            return lambda record: {name: codec(getattr(record, name)) for name, codec in inner.items()}

        def read(plain: dict[str, Any]) -> Any:
            unknown = plain.keys() - inner.keys()
            if unknown:
                raise ValueError(
                    f"{kind.__name__} has no field {', '.join(sorted(unknown))}: the snapshot is of another version"
                )
            return kind(**{name: codec(plain[name]) for name, codec in inner.items() if name in plain})

        return read

    def _of_optional(self, arguments: tuple[Any, ...]) -> Codec:
        (kind,) = (argument for argument in arguments if argument is not type(None))
        inner = self.of(kind)
        return lambda value: None if value is None else inner(value)

    def _of_tuple(self, arguments: tuple[Any, ...]) -> Codec:
        if len(arguments) == 2 and arguments[1] is Ellipsis:
            every = self.of(arguments[0])
            if self.writing:
                return lambda items: [every(item) for item in items]
            return lambda items: tuple(map(every, items))
        codecs = [self.of(argument) for argument in arguments]
        shape: Callable[[Any], Any] = list if self.writing else tuple
        return lambda items: shape(codec(item) for codec, item in zip(codecs, items, strict=True))


def _number(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"a snapshot cannot hold {value}; every number must be finite")
    return float(value)
