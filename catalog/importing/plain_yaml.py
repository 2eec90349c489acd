"""The part of YAML that catalogue files need, read strictly.

Numbers, dates, true, false and null are taken from unquoted words; there are no sexagesimal numbers, and ``1e-15`` is
a number. Keys given twice, tags and aliases are refused: each would say something else than it seems to.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import yaml

_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)  # the fast one where libyaml is there
_INTEGER = re.compile(r"[-+]?\d{1,40}")
_NUMBER = re.compile(r"[-+]?(\.\d+|\d+\.?\d*)([eE][-+]?\d+)?")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_WORDS = {
    "": None,
    "~": None,
    "null": None,
    "true": True,
    "false": False,
    ".inf": float("inf"),
    "-.inf": float("-inf"),
    ".nan": float("nan"),
}
_TAGS = {f"tag:yaml.org,2002:{kind}" for kind in ("str", "seq", "map")}


class YamlError(Exception):
    """A text is not the YAML that is accepted here; the message names the line."""


def read_items(text: str) -> list[tuple[int, Any]]:
    """Read a text that is one list and return its items with the lines they start on.

    >>> read_items("- {size_mm: 120, rate: 1e-15}")
    [(1, {'size_mm': 120, 'rate': 1e-15})]
    """
    root = _compose(text)
    if root is None:
        return []
    if not isinstance(root, yaml.SequenceNode):
        raise YamlError("line 1: is not a list; write each block as an item that begins with '- '")
    seen: set[int] = set()
    return [(node.start_mark.line + 1, _value(node, seen)) for node in root.value]


def _compose(text: str) -> yaml.Node | None:
    try:
        return yaml.compose(text, Loader=_LOADER)
    except yaml.reader.ReaderError as error:
        line = text.count("\n", 0, error.position) + 1
        raise YamlError(f"line {line}: control character {error.character:#x} is not accepted") from None
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = f"line {mark.line + 1}: " if mark else ""
        raise YamlError(f"{line}is not YAML: {error.problem or error.context}") from None
    except RecursionError:
        raise YamlError("is nested too deeply") from None


def _value(node: yaml.Node, seen: set[int]) -> Any:
    line = node.start_mark.line + 1
    if id(node) in seen:
        raise YamlError(f"line {line}: is used again by an alias; write it out where it is used")
    seen.add(id(node))
    if node.tag not in _TAGS:
        raise YamlError(f"line {line}: tag '{node.tag}' is not accepted; leave it out")
    if isinstance(node, yaml.ScalarNode):
        return node.value if node.style else _plain(node.value, line)
    if isinstance(node, yaml.SequenceNode):
        return [_value(item, seen) for item in node.value]
    return _mapping(node, seen)


def _mapping(node: yaml.MappingNode, seen: set[int]) -> dict[str, Any]:
    mapping: dict[str, Any] = {}
    for key_node, value_node in node.value:
        line = key_node.start_mark.line + 1
        if not isinstance(key_node, yaml.ScalarNode):
            raise YamlError(f"line {line}: a key must be a word")
        if key_node.value in mapping:
            raise YamlError(f"line {line}: key '{key_node.value:.60}' is given twice")
        mapping[key_node.value] = _value(value_node, seen)
    return mapping


def _plain(word: str, line: int) -> Any:
    if word in _WORDS:
        return _WORDS[word]
    if _INTEGER.fullmatch(word):
        return int(word)
    if _NUMBER.fullmatch(word):
        return float(word)
    if _DATE.fullmatch(word):
        try:
            return date.fromisoformat(word)
        except ValueError as error:
            raise YamlError(f"line {line}: date {word} does not exist: {error}") from None
    return word
