"""A brief in a YAML file, read with care: it may come from anyone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

from advisor.brief.contradictions import KnownParts
from advisor.brief.reading import BriefReading, read_brief
from advisor.brief.values import problem

LARGEST_BYTES = 64_000
ACCEPTED = "a YAML file of at most 64 kB in UTF-8 with one field of a brief to a line"


class _BriefLoader(yaml.SafeLoader):
    """Plain data only: no aliases, which can blow up in memory, and no key twice, of which one would be lost."""

    def compose_node(self, parent: yaml.Node | None, index: int) -> yaml.Node | None:
        if self.check_event(yaml.AliasEvent):
            raise yaml.composer.ComposerError(None, None, "found an alias (*name)", self.peek_event().start_mark)
        return super().compose_node(parent, index)

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[Any, Any]:
        seen = set()
        for key, _ in node.value:
            if not isinstance(key, yaml.ScalarNode):
                raise yaml.constructor.ConstructorError(None, None, "found a key that is no word", key.start_mark)
            if key.value in seen:
                raise yaml.constructor.ConstructorError(None, None, "found a field twice", key.start_mark)
            seen.add(key.value)
        return super().construct_mapping(node, deep)


def read_brief_file(path: str | Path, known_parts: KnownParts | None = None) -> BriefReading:
    """Read a brief from a YAML file; whatever is wrong with file or brief comes back as problems.

    Parameters
    ----------
    path : str or Path
    known_parts : mapping, optional
        As for ``read_brief``.
    """
    try:
        with Path(path).open("rb") as file:
            content = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        return _failed(path, f"cannot be read ({getattr(error, 'strerror', None) or error})")
    if len(content) > LARGEST_BYTES:
        return _failed(path, f"is larger than {LARGEST_BYTES // 1000} kB")
    try:
        data = yaml.load(content.decode("utf-8-sig"), Loader=_BriefLoader)
    except UnicodeDecodeError as error:
        return _failed(path, f"is not UTF-8 (byte {error.start + 1})")
    except yaml.MarkedYAMLError as error:
        place = f" in line {error.problem_mark.line + 1}" if error.problem_mark else ""
        return _failed(path, f"is not such YAML: {error.problem}{place}")
    except (yaml.YAMLError, ValueError) as error:
        return _failed(path, f"is not such YAML: {str(error).splitlines()[0]}")
    except RecursionError:
        return _failed(path, "is nested too deeply")
    return read_brief(data, known_parts)


def _failed(path: str | Path, why: str) -> BriefReading:
    return BriefReading(None, (problem("", Path(path).name, why, ACCEPTED),))
