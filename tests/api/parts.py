"""Addresses, clients and bodies for the tests of the catalogue's endpoints."""

from __future__ import annotations

from api.kinds import KINDS

BASE = "/api/v1/"
PARTS = [kind for kind in KINDS if kind.layout.is_part]
FANS = f"{BASE}fans/"
FAN = f"{FANS}fan-120/"
TOWER = f"{BASE}enclosures/tower/"
READ_ONLY = ("url", "owner", "offered", "decline_note", "contributor")


def each_kind(kinds=KINDS):
    return {"argnames": "kind", "argvalues": kinds, "ids": [kind.path for kind in kinds]}


def match(answer):
    """The header that names the version which an answer shows."""
    return {"if-match": answer["ETag"]}


def change(client, address, method="patch", **keys):
    """Read, then change what was read, as a client that is alone would."""
    body = None if method == "delete" else keys
    return getattr(client, method)(address, body, headers=match(client.get(address)))


def codes(answer):
    assert answer.status_code == 200, answer.content
    return [row["code"] for row in answer.json()["results"]]


def new_fan(client, **keys):
    """The body of a fan like the first one, to be added under another code."""
    body = client.get(FAN).json()
    return {key: value for key, value in body.items() if key not in READ_ONLY} | {"code": "shelf"} | keys
