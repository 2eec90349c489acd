"""One of everything that an address can name, for each person: one's own, and what is nobody's or anybody's."""

import uuid
from typing import Any

from django.apps import apps
from django.contrib.contenttypes.models import ContentType

from advisor.access.roles import Role, role_of
from advisor.access.rules import KINDS
from advisor.models import Study
from catalog.formats import PARTS
from catalog.models import Enclosure, Maker, Source
from catalog.offers import offer
from catalog.ownership import own_code
from tests.advisor.access.making import NOW, make_study, make_token
from tests.advisor.access.routes import Route

FILES_OF = {"power-supply": "supplies", "ups-unit": "ups_units", "solid-state-drive": "ssds", "graphics": "graphics"}
MODEL_OF = {kind: PARTS[FILES_OF.get(kind, f"{kind}s")].model for kind in KINDS}
MISSING = {"code": "nothing-is-called-so", "id": str(uuid.UUID(int=1)), "prefix": "zzzzzzzz"}


class Things:
    """What the people of a test own, and how addresses name it."""

    def __init__(self, people: dict[Role, Any]) -> None:
        self.people = people
        self.studies = {role: _finished_study(person) for role, person in people.items()}
        self.tokens = {role: make_token(person) for role, person in people.items() if role is not Role.GUEST}
        self.own = {
            (role, kind): own_part(model, person)
            for kind, model in MODEL_OF.items()
            for role, person in people.items()
            if role is not Role.GUEST
        }
        self.offered = {
            kind: offer(part=own_part(model, people[Role.MEMBER], "offered"), by=people[Role.MEMBER], now=NOW)
            for kind, model in MODEL_OF.items()
        }

    def path(self, route: Route, role: Role) -> str:
        """Return an address that leads a person of a role to something that exists and that the role may use."""
        room = route.name.partition(":")[0]
        rooms = {"api": self._of_api, "admin": self._of_admin, "pages": self._of_pages}
        given = rooms[room](route, role) if route.arguments else {}
        lacking = set(route.arguments) - set(given)
        assert not lacking, f"{route}: say in tests/advisor/access/things.py what can stand for {sorted(lacking)}"
        return route.path % given

    def _of_api(self, route: Route, role: Role) -> dict[str, str]:
        kind, _, action = route.name.removeprefix("api:").rpartition("-")
        owner = max(role, Role.MEMBER)
        if kind in ("maker", "source"):
            return {"code": {"maker": Maker, "source": Source}[kind].objects.get(code__in=("marl", "sheet")).code}
        if kind in MODEL_OF:
            wanted = self.offered if action in ("accept", "decline") else None
            public = action in ("detail", "figures") and role is Role.GUEST
            part = wanted[kind] if wanted else self.own[owner, kind]
            return {"code": MODEL_OF[kind].objects.public().first().code if public else part.code}
        return {"id": str(self.studies[role].pk), "prefix": self.tokens[owner].prefix}

    def _of_pages(self, route: Route, role: Role) -> dict[str, str]:
        owner = max(role, Role.MEMBER)
        kind = "enclosure" if "enclosure" in route.name else "fan"
        part = self.own[owner, kind]
        if route.name.endswith(("-accept", "-decline")):
            part = self.offered[kind]
        elif route.name == "pages:part" and role is Role.GUEST:
            part = MODEL_OF[kind].objects.public().first()
        named = {"kind": f"{kind}s", "code": part.code, "build": "any"}
        return {"id": str(self.studies[role].pk), "prefix": self.tokens[owner].prefix, **named}

    def _of_admin(self, route: Route, role: Role) -> dict[str, str]:
        _, _, app, *rest = route.path.split("/")
        given = {"app_label": "catalog", "url": "nothing/here/"}
        if "content_type_id" in route.arguments:
            enclosure = ContentType.objects.get_for_model(Enclosure)
            return {"content_type_id": str(enclosure.pk), "object_id": str(Enclosure.objects.public().first().pk)}
        if rest and not app.startswith("%"):
            row = apps.get_model(app, rest[0])._default_manager.first() if len(rest) > 1 else None
            given |= {"object_id": str(row.pk), "id": str(row.pk)} if row else {}
        return given


def own_part(model, owner, word="mine"):
    """Return a new own part of somebody's, like the first public one."""
    part = model.objects.public().first()
    part.pk, part.owner, part.code = None, owner, own_code(f"{owner.username:a>8.8}", word)
    part.save()
    return part


def _finished_study(person) -> Study:
    owner = person if role_of(person) is not Role.GUEST else None
    return make_study(owner, state="failed", failure="on purpose", finished_at=NOW)
