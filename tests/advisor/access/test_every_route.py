"""Every address of the service, asked by every role: the answer is the one that the table of rules gives."""

import json
import sys
from datetime import UTC, datetime
from pathlib import Path
from types import ModuleType

import pytest
from django.conf import settings
from django.contrib.auth.models import AnonymousUser
from django.core.cache import cache
from django.db import transaction
from django.http import HttpResponse
from django.test import Client
from django.urls import path, reverse

from advisor.access.roles import Role
from advisor.access.rules import RULES, least_role
from advisor.project import urls
from catalog.importing.loading import load_catalog
from tests.advisor.access.people import make_person
from tests.advisor.access.routes import every_route
from tests.advisor.access.things import MISSING, Things

SMALL = Path(__file__).parents[2] / "catalog" / "data"
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
ROUTES = every_route()
# Addresses that lead nowhere by their nature: to a page outside the admin pages, and to none at all.
NOWHERE = {"admin:view_on_site", "admin:django.contrib.admin.sites.catch_all_view"}
QUERY = {"admin:autocomplete": {"app_label": "catalog", "model_name": "fan", "field_name": "maker", "term": ""}}


def without_rule(routes):
    return sorted({route.name for route in routes} - set(RULES))


def test_every_route_has_a_rule():
    assert without_rule(ROUTES) == []


def test_every_rule_is_for_a_route_and_for_methods_that_exist():
    assert set(RULES) - {route.name for route in ROUTES} == set()
    assert {method for rule in RULES.values() for method in rule} <= set(METHODS)


@pytest.fixture
def stray(monkeypatch):
    """One more address, for which nobody wrote a rule."""
    module = ModuleType("urls_with_a_stray")
    module.urlpatterns = [*urls.urlpatterns, path("stray/", lambda request: HttpResponse("secret"), name="stray")]
    monkeypatch.setitem(sys.modules, module.__name__, module)
    return module


def test_a_route_without_a_rule_is_found(stray):
    assert without_rule(every_route(stray)) == ["stray"]


@pytest.mark.urls("urls_with_a_stray")
def test_a_route_without_a_rule_is_refused_to_all(stray, db, settings):
    settings.ROOT_URLCONF = stray.__name__
    client = Client()
    assert client.get("/stray/").status_code == 403
    client.force_login(make_person("root", is_superuser=True))
    assert client.get("/stray/").status_code == 403


@pytest.fixture
def people(db):
    load_catalog(path=SMALL, at=datetime(2031, 6, 1, tzinfo=UTC))
    return {
        Role.GUEST: AnonymousUser(),
        Role.MEMBER: make_person("mara"),
        Role.REVIEWER: make_person("rita", "reviewer"),
        Role.CURATOR: make_person("cora", "curator"),
        Role.OPERATOR: make_person("olga", is_superuser=True),
    }


@pytest.fixture
def things(people):
    return Things(people)


@pytest.fixture
def ask(people):
    """Ask as a role and leave everything as it was."""
    clients = {role: Client() for role in people}
    sessions = {}
    for role, person in people.items():
        if role is not Role.GUEST:
            clients[role].force_login(person)
            sessions[role] = clients[role].cookies[settings.SESSION_COOKIE_NAME].value

    def asked(role, method, address, query=None):
        cache.clear()  # the rates at which people may ask are not what is tested here
        if role in sessions:
            clients[role].cookies[settings.SESSION_COOKIE_NAME] = sessions[role]
        body = {} if method == "GET" else {"data": "{}", "content_type": "application/json"}
        with transaction.atomic():
            answer = clients[role].generic(method, address, **body, query_params=query)
            transaction.set_rollback(True)
        return answer

    return asked


def as_it_should_be(route, method, role, answer):
    """Return whether an answer is what the table says; refused guests are asked to sign in."""
    least, status = least_role(route.name, method), answer.status_code
    if least is None:
        return status in (401, 403, 405)
    if role >= least:
        return status not in (401, 403, 405) and (status == 404) == (route.name in NOWHERE) and not to_sign_in(answer)
    if role is Role.GUEST:
        return status == 401 if route.name.startswith("api:") else status == 403 or to_sign_in(answer)
    return status == 403


def to_sign_in(answer):
    entrances = [reverse(name) + "?next=" for name in ("admin:login", "pages:sign-in")]
    return answer.status_code == 302 and answer.url.startswith(tuple(entrances))


def roles_to_ask(route, method):
    """All of them, where there is a rule; where there is none, those who could get in most easily."""
    return Role if least_role(route.name, method) is not None else (Role.GUEST, Role.OPERATOR)


@pytest.mark.slow
@pytest.mark.parametrize("room", ["api", "admin", "pages", ""])
def test_every_answer_is_the_one_that_the_table_says(things, ask, room):
    wrong = []
    for route in (route for route in ROUTES if route.name.rpartition(":")[0] == room):
        for method in METHODS:
            for role in roles_to_ask(route, method):
                answer = ask(role, method, things.path(route, role), QUERY.get(route.name))
                if not as_it_should_be(route, method, role, answer):
                    wrong.append(f"{route}: {method} by {role.name}: {answer.status_code}")
    assert wrong == []


def naming_something():
    return [route for route in ROUTES if route.name.startswith("api:") and set(route.arguments) & set(MISSING)]


@pytest.mark.slow
def test_what_is_anothers_answers_as_what_does_not_exist(things, ask):
    told = []
    for route in naming_something():
        theirs = things.path(route, Role.REVIEWER)
        if route.name.startswith(("api:maker", "api:source")) or route.name.endswith(("-accept", "-decline")):
            continue  # those are nobody's own
        missing = route.path % MISSING
        for method in RULES[route.name]:
            for role in (Role.GUEST, Role.MEMBER, Role.CURATOR, Role.OPERATOR):
                answers = [ask(role, method, address) for address in (theirs, missing)]
                bodies = [
                    answer.content.replace(a.encode(), b"")
                    for answer, a in zip(answers, (theirs, missing), strict=True)
                ]
                if answers[0].status_code != answers[1].status_code or bodies[0] != bodies[1]:
                    told.append(f"{route}: {method} by {role.name}: {[answer.status_code for answer in answers]}")
                assert answers[0].status_code in (401, 404), (route, method, role, json.loads(answers[0].content))
    assert told == []
