"""The examples of the description are true: each body is accepted by the real thing, each answer has its shape."""

import json
from datetime import UTC, datetime

import pytest
from django.conf import settings
from django.contrib.auth import get_user_model
from django.db import transaction

from api.kinds import KINDS
from api.schema.part_examples import demo_block, new_block
from catalog.importing.loading import load_catalog
from tests.api.conftest import client_of
from tests.api.described import operations
from tests.api.studying import submit

ON_OWN = ("offer", "withdraw", "accept", "decline")
ON_OFFERED = ("withdraw", "accept", "decline")


@pytest.fixture
def operator(db):
    """A client who may do everything, beside the demo catalogue."""
    load_catalog(path=settings.BASE_DIR / "fixtures" / "catalog", at=datetime(2031, 6, 1, tzinfo=UTC))
    get_user_model().objects.create_user("mara.field", password="warm-lemon-kettle")
    return client_of(get_user_model().objects.create_superuser("olga", password="tall-copper-door"))


def test_answers_shown_have_their_shape():
    faults = []
    for one in operations():
        status, answer = one.success
        for media in answer.get("content", {}).values():
            if "example" in media:
                faults += [(one.id, fault) for fault in one.faults(status, media["example"])]
    assert faults == []


@pytest.mark.slow
def test_every_operation_works_as_its_examples_say(operator, settings):
    settings.RATES = {name: dict.fromkeys(rates, "100000/minute") for name, rates in settings.RATES.items()}
    faults = []
    for one in operations():
        for name, body in (one.examples or {"": None}).items():
            with transaction.atomic():
                faults += [(one.id, name, fault) for fault in tried(one, body, client_of(operator.user))]
                transaction.set_rollback(True)
    assert faults == []


def tried(one, body, client):
    """Do one operation for real, and return what is wrong with the answer."""
    if one.id == "open_account":
        get_user_model().objects.filter(username="mara.field").delete()
    path, headers = prepared(one, client)
    answer = client.generic(one.method.upper(), path, *sent(body), headers=headers)
    status, _ = one.success
    if answer.status_code != status:
        return [f"{answer.status_code}: {answer.content[:300]}"]
    if not answer.content:
        return one.faults(status, None)
    return one.faults(status, answer.json())


def sent(body):
    return () if body is None else (json.dumps(body), "application/json")


def prepared(one, client):
    """Return an address that the operation works on, and the headers that it needs."""
    kind = next((kind for kind in KINDS if one.path.startswith(f"/api/v1/{kind.path}/")), None)
    values = {"{id}": lambda: submit(client).json()["id"], "{prefix}": lambda: token(client)}
    if kind is not None:
        values["{code}"] = lambda: part(one.id, kind, client)
    path = one.path
    for name, value in values.items():
        path = path.replace(name, value()) if name in path else path
    if "If-Match" not in one.header_names:
        return path, {}
    detail = path.removesuffix("accept/").removesuffix("decline/")
    return path, {"if-match": client.get(detail)["ETag"]}


def token(client):
    return client.post("/api/v1/tokens/", {"name": "mine"}).json()["prefix"]


def part(operation, kind, client):
    """Return the code of a part that suits the operation: the demo catalogue's first, or a new one."""
    action = operation.split("_")[0]
    if action not in (*ON_OWN, "delete"):
        return demo_block(kind)["code"]
    room, whose = f"/api/v1/{kind.path}/", {"owner": "you"} if action in ON_OWN else {}
    code = client.post(room, new_block(kind) | whose).json()["code"]
    if action in ON_OFFERED:
        client.post(f"{room}{code}/offer/", {})
    return code
