"""Errors in the document: the one shape, and which of them an operation can answer."""

from __future__ import annotations

from collections.abc import Iterator
from http import HTTPStatus
from typing import TYPE_CHECKING, Any

from advisor.brief import Problem
from api.errors import CONTENT_TYPE, problem_body
from api.schema.shapes import Schema, many, named, record, text, whole

if TYPE_CHECKING:
    from api.endpoint import Endpoint
    from api.schema.operation import Operation

REFUSED_VALUE = record(
    "One value that is refused.",
    field=text("Which field, parameter or header; empty for the body as a whole."),
    value=text("The value as it came, shortened; empty where it is missing or secret."),
    accepted=text("What is accepted."),
    message=text("A sentence of all that."),
)
PROBLEM = record(
    "Why there is no other answer: problem details as of RFC 9457.",
    type=text("Kind of problem; 'about:blank' says that the status tells it.", format="uri-reference"),
    title=text("The status in words."),
    status=whole("The status in figures.", minimum=400, maximum=599),
    detail=text("What is wrong and what to do about it."),
    instance=text("Path of the request.", format="uri-reference"),
    problems=many(named("RefusedValue"), "Every value that is refused."),
)
_EXAMPLE_VALUE = Problem(
    "processor_watts", "-5", "a number from 1 to 1000 W", "processor_watts: -5 is out of range; accepted: ..."
)
PROBLEM["example"] = problem_body(422, "One value is refused ...", "/api/v1/studies/", [_EXAMPLE_VALUE])

_ALWAYS = {
    400: "The request cannot be read: broken syntax, encoding or headers.",
    401: "The header Authorization names nobody, or this needs an account and there is none.",
    406: "The answer has no form that the request accepts.",
    422: "Values of the body or the query are refused; `problems` lists them.",
    429: "Too many requests for now; `Retry-After` says when to try again [s].",
    500: "A fault of ours.",
}
_FORBIDDEN = "The account may not do this, or a session's change comes without its proof."
_BY_PATH = {404: "There is nothing here, or nothing that you may see."}
_BY_BODY = {
    411: "The body does not say how long it is.",
    413: "The body is too long.",
    415: "The body is of another kind than JSON in UTF-8.",
}
_HEADERS: dict[int, dict[str, Schema]] = {
    401: {"WWW-Authenticate": text("How to sign in.")},
    429: {"Retry-After": whole("Seconds to wait.", "s", minimum=1)},
}


def errors_of(view: Endpoint, method: str, operation: Operation, path: str, *, needs_role: bool) -> dict[str, Any]:
    """Return the responses of an operation that are errors, by status."""
    reasons = {**_ALWAYS, **(_BY_PATH if "{" in path else {}), **operation.errors}
    if method != "GET":
        reasons |= _BY_BODY
    if method != "GET" or needs_role:
        reasons[403] = _FORBIDDEN
    return dict(_responses(reasons))


def _responses(reasons: dict[int, str]) -> Iterator[tuple[str, Any]]:
    for status in sorted(reasons):
        response: dict[str, Any] = {
            "description": f"{HTTPStatus(status).phrase}. {reasons[status]}",
            "content": {CONTENT_TYPE: {"schema": named("Problem")}},
        }
        if status in _HEADERS:
            response["headers"] = {name: header(schema) for name, schema in _HEADERS[status].items()}
        yield str(status), response


def header(schema: Schema) -> dict[str, Any]:
    """Return a header of a response."""
    plain = {key: value for key, value in schema.items() if key != "description"}
    return {"description": schema["description"], "schema": plain}
