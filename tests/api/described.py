"""The interface as its own description has it: its operations, and whether answers have the shape they promise."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from jsonschema import Draft202012Validator

from api.schema.document import document


@dataclass(frozen=True)
class Described:
    """One operation of the document."""

    id: str
    path: str
    method: str
    said: dict[str, Any]

    @property
    def success(self) -> tuple[int, dict[str, Any]]:
        """The status and the description of the answer that is no error."""
        return next((int(status), one) for status, one in self.said["responses"].items() if status < "300")

    @property
    def examples(self) -> dict[str, Any]:
        """Bodies that it says are accepted."""
        content = self.said.get("requestBody", {}).get("content", {})
        return {name: one["value"] for media in content.values() for name, one in media["examples"].items()}

    @property
    def header_names(self) -> set[str]:
        return {one["name"] for one in self.said.get("parameters", []) if one["in"] == "header"}

    def faults(self, status: int, body: Any) -> list[str]:
        """Return where a body departs from the shape of an answer with a status."""
        content = self.said["responses"][str(status)].get("content")
        if content is None:
            return [] if body in (None, b"", "") else [f"{status} promises no body"]
        schema = next(iter(content.values()))["schema"]
        return [
            f"{list(one.absolute_path)}: {one.message[:200]}" for one in validator(json.dumps(schema)).iter_errors(body)
        ]


@cache
def operations() -> list[Described]:
    return list(_operations())


def _operations() -> Iterator[Described]:
    for path, item in document()["paths"].items():
        for method, said in item.items():
            yield Described(said["operationId"], path, method, said)


@cache
def validator(written: str) -> Draft202012Validator:
    """Return what checks values against a schema of the document, given as text."""
    schema = {**json.loads(written), "components": document()["components"]}
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)
