"""Every answer, whatever it is, tells browsers what they may do with it; requests out of bounds are answered unread."""

from datetime import UTC, datetime
from html.parser import HTMLParser

import pytest
from django.conf import settings
from django.contrib.auth.models import User
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from api.views.root import Root
from catalog.importing.loading import load_catalog
from catalog.models import Enclosure, Fan, Source

# Content Security Policy Level 3 (W3C): what each word means.
EXPECTED_POLICY = {
    "default-src": {"'self'"},
    "base-uri": {"'self'"},
    "form-action": {"'self'"},
    "frame-ancestors": {"'none'"},
    "object-src": {"'none'"},
}


def policy_of(response):
    directives = [part.split() for part in response["Content-Security-Policy"].split(";")]
    return {name: set(sources) for name, *sources in directives}


def assert_guarded(response):
    assert policy_of(response) == EXPECTED_POLICY
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["X-Frame-Options"] == "DENY"
    assert response["Referrer-Policy"] == "same-origin"
    assert response["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "camera=()" in response["Permissions-Policy"]


ANSWERS = [
    ("start", 200, "get", "/", {}),
    ("brief", 200, "get", "/brief/", {}),
    ("too long a form", 413, "post", "/brief/", {"CONTENT_LENGTH": str(settings.LONGEST_BODY + 1)}),
    ("interface", 200, "get", "/api/v1/", {}),
    ("interface as a page", 200, "get", "/api/v1/", {"HTTP_ACCEPT": "text/html"}),
    ("schema", 200, "get", "/api/v1/schema/", {}),
    ("wrong method", 405, "delete", "/api/v1/", {}),
    ("nothing in the interface", 404, "get", "/api/v1/nowhere/", {}),
    ("nothing elsewhere", 404, "get", "/nowhere/", {}),
    ("NUL in the address", 404, "get", "/api/v1/fans/%00/", {}),
    ("sign in first", 302, "get", "/admin/", {}),
    ("sign-in page", 200, "get", "/admin/login/", {}),
    ("file", 200, "get", "/static/admin/css/base.css", {}),
    ("no such file", 404, "get", "/static/nowhere.css", {}),
    ("name of another host", 400, "get", "/", {"HTTP_HOST": "elsewhere.example"}),
    ("too long", 413, "post", "/api/v1/studies/", {"CONTENT_LENGTH": str(settings.LONGEST_BODY + 1)}),
]


@pytest.mark.parametrize("asked", ANSWERS, ids=lambda asked: asked[0])
def test_every_answer_is_guarded(db, client, asked):
    _, status, method, path, headers = asked
    response = getattr(client, method)(path, **headers)
    response.close()
    assert response.status_code == status
    assert_guarded(response)


def test_answer_to_a_fault_of_ours_is_guarded(db, monkeypatch):
    def fail(*args):
        raise RuntimeError("a fault")

    monkeypatch.setattr(Root, "get", fail)
    response = Client(raise_request_exception=False).get("/api/v1/")
    assert response.status_code == 500
    assert_guarded(response)


def test_answer_that_nothing_changed_is_guarded(db, client):
    tag = client.get("/api/v1/")["ETag"]
    response = client.get("/api/v1/", HTTP_IF_NONE_MATCH=tag)
    assert response.status_code == 304
    assert_guarded(response)


class Breaches(HTMLParser):
    """Collects what a page has that its own policy makes browsers ignore."""

    DATA = ("application/json", "application/ld+json")  # data blocks are no scripts (HTML standard, 4.12.1)

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if tag == "style" or (tag == "script" and "src" not in given and given.get("type") not in self.DATA):
            self.found.append(f"inline <{tag}>")
        self.found += [f"{tag} {name}" for name in given if name == "style" or name.startswith("on")]
        loaded = given.get("src") or (given.get("href") if tag == "link" else "") or ""
        if loaded and (not loaded.startswith("/") or loaded.startswith("//")):
            self.found.append(f"{tag} loads {loaded}")
        if (given.get("href") or "").startswith("javascript:"):
            self.found.append(f"{tag} with javascript:")


def breaches(response: HttpResponse):
    assert response.status_code in (200, 404, 405, 422), response
    assert response["Content-Type"].startswith("text/html")
    parser = Breaches()
    parser.feed(response.content.decode())
    return parser.found


@pytest.fixture
def operator(db, client):
    load_catalog(path=settings.BASE_DIR / "tests" / "catalog" / "data", at=datetime(2031, 6, 1, tzinfo=UTC))
    client.force_login(User.objects.create_superuser("olga"))
    return client


def admin_pages():
    yield reverse("admin:index")
    yield reverse("admin:password_change")
    for model in (Enclosure, Fan, Source):
        name = f"admin:catalog_{model._meta.model_name}"
        yield reverse(f"{name}_changelist")
        for page in ("change", "delete", "history"):
            yield reverse(f"{name}_{page}", args=[model.objects.first().pk])
    yield reverse("admin:catalog_fan_add")
    yield reverse("admin:catalog_catalogload_changelist")
    yield reverse("admin:auth_user_changelist")
    yield reverse("admin:auth_user_add")


def test_admin_pages_keep_to_the_policy(operator):
    found = {page: breaches(operator.get(page)) for page in admin_pages()}
    assert {page: of for page, of in found.items() if of} == {}


@pytest.mark.parametrize("path", ["/api/v1/", "/api/v1/tokens/", "/api/v1/tokens/nothing/", "/nowhere/"])
def test_pages_keep_to_the_policy(operator, path):
    assert breaches(operator.get(path, HTTP_ACCEPT="text/html")) == []


def test_sign_in_page_keeps_to_the_policy(db, client):
    assert breaches(client.get("/admin/login/")) == []


def test_breaches_are_seen():
    parser = Breaches()
    parser.feed(
        "<p style='color: red' onclick='x()'><script>x()</script><script type='application/json'>{}</script>"
        "<style>p {}</style><script src='//elsewhere.example/x.js'></script><a href='javascript:x()'>"
    )
    assert parser.found == [
        "p style",
        "p onclick",
        "inline <script>",
        "inline <style>",
        "script loads //elsewhere.example/x.js",
        "a with javascript:",
    ]
