"""From what endpoints say to operations of the OpenAPI document."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drf_spectacular.openapi import AutoSchema
from rest_framework.serializers import BaseSerializer

from advisor.access.roles import Role
from advisor.access.rules import least_role
from api.etags import TAGS
from api.schema.operation import HEADER, PATH, Answer, Operation, Parameter, Shape
from api.schema.problems import errors_of, header
from api.schema.routes import ROOM, api_routes
from api.schema.shapes import text

JSON = "application/json"
_VERSION_HEADERS = {"ETag": "The version that this is."}
_UNCHANGED = {"description": "Not Modified. What the request has, by its If-None-Match, is what there is."}
_KNOWN_VERSIONS = Parameter(
    "If-None-Match",
    text("ETags of answers that you have: nothing is sent again where one of them is current.", pattern=TAGS),
    HEADER,
)


class OperationSchema(AutoSchema):
    """Describes an operation by the endpoint's own words, and its errors by what the endpoint is."""

    view: Any

    @property
    def operation(self) -> Operation:
        return self.view.operations[self.method]

    def get_operation_id(self) -> str:
        return self.operation.id

    def get_summary(self) -> str:
        return self._said()[0]

    def get_description(self) -> str:
        return self._said()[1]

    def get_tags(self) -> list[str]:
        return [self.path.removeprefix(ROOM).split("/")[0] or "start"]

    def get_auth(self) -> list[dict[str, list[str]]]:
        signed_in: list[dict[str, list[str]]] = [{"token": []}, {"session": []}]
        return [{}, *signed_in] if self._least() is Role.GUEST else signed_in

    def _said(self) -> tuple[str, str]:
        said = (self.operation.said or getattr(self.view, self.method.lower()).__doc__ or "").strip()
        first, _, rest = said.partition("\n\n")
        return " ".join(first.split()).rstrip("."), "\n".join(line.strip() for line in rest.splitlines())

    def _least(self) -> Role | None:
        path = f"/{self.path_regex.lstrip('/')}"
        names = [route.name for route in api_routes() if route.path == path]
        return least_role(names[0], self.method)

    def _get_parameters(self) -> list[dict[str, Any]]:
        found = [parameter for parameter in self.view.path_parameters if f"{{{parameter.name}}}" in self.path]
        if self.method == "GET":
            found += [*self.view.query_parameters, _KNOWN_VERSIONS]
        return [_parameter(one) for one in (*found, *self.operation.headers)]

    def _get_request_body(self, direction: str = "request") -> dict[str, Any] | None:
        if self.operation.body is None:
            return None
        content: dict[str, Any] = {"schema": self._schema(self.operation.body, direction)}
        examples = _made(self.operation.examples)
        content["examples"] = {name: {"value": value} for name, value in examples.items()}
        return {"required": True, "content": {JSON: content}}

    def _get_response_bodies(self, direction: str = "response") -> dict[str, Any]:
        found = {str(status): self._answer(answer) for status, answer in self.operation.answers.items()}
        if self.method == "GET":
            found["304"] = _UNCHANGED
        needs_role = self._least() not in (Role.GUEST, Role.MEMBER)
        return found | errors_of(self.view, self.method, self.operation, self.path, needs_role=needs_role)

    def _answer(self, answer: Answer) -> dict[str, Any]:
        found: dict[str, Any] = {"description": answer.meaning}
        if answer.shape is not None:
            content: dict[str, Any] = {"schema": self._schema(answer.shape, "response")}
            if answer.example is not None:
                content["example"] = _made(answer.example)
            found["content"] = dict.fromkeys(self.map_renderers("media_type"), content)
        headers = {**(_VERSION_HEADERS if self.method == "GET" else {}), **answer.headers}
        if headers:
            found["headers"] = {name: header(text(help)) for name, help in headers.items()}
        return found

    def _map_basic_serializer(self, serializer: Any, direction: Any) -> dict[str, Any]:
        return {**super()._map_basic_serializer(serializer, direction), "additionalProperties": False}

    def _schema(self, shape: Shape, direction: Any) -> Mapping[str, Any]:
        if isinstance(shape, type) and issubclass(shape, BaseSerializer):
            return self.resolve_serializer(shape, direction).ref
        return shape


def _made(example: Any) -> Any:
    return example() if callable(example) else example


def _parameter(one: Parameter) -> dict[str, Any]:
    schema = {key: value for key, value in one.schema.items() if key != "description"}
    found = {"name": one.name, "in": one.place, "description": one.schema["description"], "schema": schema}
    return found | {"required": True} if one.required or one.place == PATH else found
