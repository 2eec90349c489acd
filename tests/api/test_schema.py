"""The interface describes itself: completely, in valid OpenAPI, and with examples that are true."""

import json

import pytest
import yaml
from drf_spectacular.drainage import GENERATOR_STATS
from drf_spectacular.generators import SchemaGenerator
from openapi_spec_validator import validate

from api.errors import CONTENT_TYPE
from api.schema.document import document
from api.schema.routes import api_routes

SCHEMA = "/api/v1/schema/"
METHODS = ("get", "post", "put", "patch", "delete")


def operations():
    """Every operation of the document as (its id, path, method, itself)."""
    return [
        (operation["operationId"], path, method, operation)
        for path, item in document()["paths"].items()
        for method, operation in item.items()
    ]


def each_operation(function):
    found = operations()
    return pytest.mark.parametrize(
        ("path", "method", "operation"), [one[1:] for one in found], ids=[o[0] for o in found]
    )(function)


def test_it_is_valid():
    validate(document())


def test_generator_warns_of_nothing():
    GENERATOR_STATS.reset()
    SchemaGenerator().get_schema(request=None, public=True)
    assert not GENERATOR_STATS._warn_cache and not GENERATOR_STATS._error_cache


@pytest.mark.parametrize("form", ["application/json", "application/vnd.oai.openapi+json"])
def test_it_is_there_in_json(guest, form):
    answer = guest.get(SCHEMA, headers={"accept": form})
    assert answer["Content-Type"].startswith(form)
    assert json.loads(answer.content)["openapi"] == "3.1.0"


def test_it_is_there_in_yaml(guest):
    answer = guest.get(SCHEMA, headers={"accept": "application/yaml"})
    assert yaml.safe_load(answer.content) == json.loads(guest.get(SCHEMA).content)


def test_every_address_is_in_it():
    described = {(path, method) for _, path, method, _ in operations()}
    routed = {(route.path, method) for route in api_routes() for method in METHODS if hasattr(route.endpoint, method)}
    assert len(described) == len(routed)


def test_ids_are_there_once():
    ids = [one[0] for one in operations()]
    assert len(set(ids)) == len(ids)
    assert all(one.islower() and one.isidentifier() for one in ids)


@each_operation
def test_every_error_has_the_one_shape(path, method, operation):
    errors = {status: one for status, one in operation["responses"].items() if status >= "400"}
    assert errors.keys() >= {"400", "401", "406", "422", "429", "500"}
    for error in errors.values():
        assert error["content"] == {CONTENT_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}}


@each_operation
def test_every_operation_has_a_summary_and_an_example(path, method, operation):
    assert operation["summary"]
    success = next(one for status, one in operation["responses"].items() if status < "300")
    for content in (operation.get("requestBody"), success):
        for one in (content or {}).get("content", {}).values():
            assert one.get("examples") or "example" in one or path == SCHEMA


def schemas_in(node, trail=""):
    """Every schema below a part of the document that stands for a field, with its place."""
    if isinstance(node, dict):
        for name, one in node.get("properties", {}).items() if isinstance(node.get("properties"), dict) else ():
            yield f"{trail}.{name}", one
        for key, one in node.items():
            if key not in ("example", "examples", "default"):
                yield from schemas_in(one, f"{trail}.{key}")
    elif isinstance(node, list):
        for number, one in enumerate(node):
            yield from schemas_in(one, f"{trail}[{number}]")


def test_every_field_is_described():
    bare = [place for place, one in schemas_in(document()) if not one.get("description") and "$ref" not in one]
    assert bare == []


def test_every_parameter_is_described():
    for _, path, method, operation in operations():
        for parameter in operation.get("parameters", []):
            assert parameter["description"] and parameter["schema"], (path, method, parameter["name"])
