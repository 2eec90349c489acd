"""Out through the interface and in again is the same, and the same as the catalogue's files say."""

import json
from datetime import UTC, datetime

import pytest
from openapi_schema_validator import OAS31Validator

from api.kinds import KINDS
from api.schema.document import document
from catalog.exporting import block_of, export_blocks
from catalog.formats import FILES
from catalog.importing.loading import catalog_digest, load_catalog
from catalog.models import FigureNote
from catalog.records import records_of
from tests.api.parts import BASE, READ_ONLY, match


@pytest.fixture
def demo(db, settings):
    load_catalog(path=settings.BASE_DIR / "fixtures" / "catalog", at=datetime(2031, 6, 1, tzinfo=UTC))
    settings.RATES = {name: dict.fromkeys(rates, "100000/minute") for name, rates in settings.RATES.items()}


def validator(component):
    return OAS31Validator({"$ref": f"#/components/schemas/{component}", "components": document()["components"]})


def addresses():
    return [
        (kind, f"{BASE}{kind.path}/{code}/")
        for kind in KINDS
        for code in kind.layout.model.objects.values_list("code", flat=True)
    ]


def without_what_only_we_write(body):
    return {key: value for key, value in body.items() if key not in READ_ONLY}


@pytest.mark.slow
def test_every_part_sent_back_changes_nothing(demo, curator):
    notes = sorted(FigureNote.objects.values_list("pk", flat=True))
    before = catalog_digest()
    for _, address in addresses():
        read = curator.get(address)
        written = curator.put(address, read.json(), headers=match(read))
        assert (written.status_code, written.json(), written["ETag"]) == (200, read.json(), read["ETag"])
    assert catalog_digest() == before
    assert sorted(FigureNote.objects.values_list("pk", flat=True)) == notes


def test_a_body_under_another_code_reads_back_as_it_was_sent(demo, curator):
    for kind in KINDS:
        if kind.layout.is_part:
            first = kind.layout.model.objects.order_by("code").first().code
            body = without_what_only_we_write(curator.get(f"{BASE}{kind.path}/{first}/").json()) | {"code": "another"}
            assert curator.post(f"{BASE}{kind.path}/", body).status_code == 201
            read = curator.get(f"{BASE}{kind.path}/another/")
            assert without_what_only_we_write(read.json()) == body
            assert curator.delete(f"{BASE}{kind.path}/another/", headers=match(read)).status_code == 204


def test_bodies_say_what_the_exporter_says(demo, guest):
    for kind in KINDS:
        wholes = {
            record.columns["code"]: json.loads(json.dumps(block_of(kind.layout, record, whole=True), default=str))
            for record in records_of(FILES[kind.file]).values()
        }
        for block in export_blocks(kind.file):
            body = without_what_only_we_write(guest.get(f"{BASE}{kind.path}/{block['code']}/").json())
            assert body == wholes[block["code"]]
            assert lacking(block, body) == []


def lacking(block, body, path=""):
    """What a file's block says and a body does not say alike; what the block leaves out is as by default."""
    if isinstance(block, dict):
        return [place for key, one in block.items() for place in lacking(one, body.get(key), f"{path}.{key}")]
    if isinstance(block, list) and block and isinstance(block[0], dict):
        pairs = zip(block, body, strict=True)
        return [
            place for number, (one, other) in enumerate(pairs) for place in lacking(one, other, f"{path}[{number}]")
        ]
    return [] if body == (str(block) if path == ".date" else block) else [path]


def test_every_body_has_the_shape_that_is_described(demo, guest):
    for kind in KINDS:
        whole, body = validator(kind.name), validator(f"{kind.name}Body")
        for code in kind.layout.model.objects.values_list("code", flat=True):
            shown = guest.get(f"{BASE}{kind.path}/{code}/").json()
            assert [error.message for error in whole.iter_errors(shown)] == []
            assert [error.message for error in body.iter_errors(shown)] == []


def test_every_list_has_the_shape_that_is_described(demo, guest):
    for kind in KINDS:
        operation = document()["paths"][f"{BASE}{kind.path}/"]["get"]
        schema = operation["responses"]["200"]["content"]["application/json"]["schema"]
        page = OAS31Validator({**schema, "components": document()["components"]})
        assert [error.message for error in page.iter_errors(guest.get(f"{BASE}{kind.path}/").json())] == []


def test_every_part_has_its_figures(demo, guest):
    shape = validator("PartFigure")
    for kind, address in addresses():
        if kind.layout.is_part:
            found = guest.get(f"{address}figures/").json()["figures"]
            assert "price" in [figure["name"] for figure in found]
            assert not [error.message for figure in found for error in shape.iter_errors(figure)]
