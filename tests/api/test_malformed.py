"""Whatever is wrong with a request, on every address: a 4xx in the one shape, and never a fault of ours."""

import json
import re

import pytest

from api.endpoint import ListEndpoint
from api.errors import CONTENT_TYPE
from api.schema.routes import api_routes
from tests.api.conftest import client_of
from tests.api.test_root import MEMBERS

FITTING = {"uuid": "00000000-0000-4000-8000-000000000000"}
WRITING = ("POST", "PUT", "PATCH", "DELETE")

BODIES = {
    "broken": (b'{"a": ', "application/json", 400),
    "empty text": (b" ", "application/json", 400),
    "twice the same key": (b'{"a": 1, "a": 1}', "application/json", 400),
    "NaN": (b'{"a": NaN}', "application/json", 400),
    "too deep": (b"[" * 5000, "application/json", 400),
    "latin-1": ('{"a": "\xe9"}'.encode("latin-1"), "application/json", 400),
    "utf-16": ('{"a": 1}'.encode("utf-16"), "application/json", 400),
    "NUL": (b'{"a": "\\u0000"}', "application/json", 400),
    "half a character": (b'{"\\udcff": 1}', "application/json", 400),
    "too long": (b'{"a": "' + b"x" * 300_000 + b'"}', "application/json", 413),
    "form": (b"a=1", "application/x-www-form-urlencoded", 415),
    "multipart": (b"--x\r\n", "multipart/form-data; boundary=x", 415),
    "multipart without boundary": (b"--x\r\n", "multipart/form-data", 415),
    "text": (b"{}", "text/plain", 415),
    "no type": (b"{}", "", 415),
    "wrong charset": (b"{}", "application/json; charset=latin-1", 415),
    "unknown charset": (b"{}", "application/json; charset=klingon", 415),
    "array": (b"[1]", "application/json", 422),
    "null": (b"null", "application/json", 422),
    "number": (b"1e3", "application/json", 422),
    "unknown field": (b'{"no_such_field": 1}', "application/json", 422),
}
IDS = [
    *("0", "-1", "9" * 400, "x" * 3000, "..%2f", "%00", "%ff", "%C3%A9", "'--", "a%0Ab"),
    *("00000000-0000-0000-0000-000000000000", "{id}"),
]
HEADERS = [
    ("accept", "image/png", 406),
    ("authorization", "Basic bWFyYTpw", 401),
    ("authorization", "Bearer \xff", 401),
    ("if-none-match", "unquoted", 400),
    ("if-match", '"a', 400),
]
QUERIES = ["colour=red", "format=xml&%00=1", "=", "colour=a&colour=b&a[]=%ff"]
LISTS = ["cursor=x", "cursor=", "page_size=0", "page_size=9999", "page_size=x", "cursor=a&cursor=b"]


@pytest.fixture
def operator(django_user_model, db):
    return client_of(django_user_model.objects.create_superuser("olga", password="tall-copper-door"))


@pytest.fixture(autouse=True)
def patient(settings):
    settings.RATES = {name: dict.fromkeys(rates, "100000/minute") for name, rates in settings.RATES.items()}


def path_of(route, value=None):
    """The route's path with a value for each parameter: one that fits no row but has the form of every id, if none."""
    return re.sub(r"<(\w+):\w+>", lambda found: value or FITTING.get(found[1], "nothing"), route.path)


def each(*methods):
    """Every route and method of the interface, of those methods."""
    return [(route, m) for route in api_routes() for m in methods if hasattr(route.endpoint, m.lower())]


def faults_of(answer, *statuses):
    """What is wrong with an error: another status, or another shape than the one."""
    if answer.status_code not in statuses:
        return [f"{answer.status_code}: {answer.content[:200]}"]
    body = json.loads(answer.content)
    told = len(body["detail"]) + sum(len(one["message"]) for one in body["problems"])
    shaped = list(body) == MEMBERS and answer["Content-Type"] == CONTENT_TYPE and told < 20_000
    return [] if shaped else [f"{answer['Content-Type']}: {body}"]


@pytest.mark.slow
@pytest.mark.parametrize("what", BODIES)
def test_bodies(operator, what):
    body, content_type, status = BODIES[what]
    faults = []
    for route, method in each(*WRITING):
        # Of what is not there, or needs the version that is changed, that may be told first.
        earlier = (404, 428) if "<" in route.path else ()
        answer = operator.generic(method, path_of(route), body, content_type=content_type)
        faults += [(route.name, method, fault) for fault in faults_of(answer, status, *earlier)]
    assert faults == []


@pytest.mark.slow
@pytest.mark.parametrize(("header", "value", "status"), HEADERS)
def test_headers(operator, header, value, status):
    faults = []
    for route, method in each("GET", *WRITING):
        answer = operator.generic(method, path_of(route), headers={header: value})
        faults += [(route.name, method, fault) for fault in faults_of(answer, status)]
        faults += [(route.name, method, one) for one in answer.json()["problems"] if one["field"].lower() != header]
    assert faults == []


@pytest.mark.slow
@pytest.mark.parametrize("query", QUERIES)
def test_query_parameters_that_are_not_known(operator, query):
    faults = []
    for route, method in each("GET", *WRITING):
        answer = operator.generic(method, f"{path_of(route)}?{query}")
        faults += [(route.name, method, fault) for fault in faults_of(answer, 422)]
    assert faults == []


@pytest.mark.parametrize("query", LISTS)
def test_pages_that_are_not_there(operator, query):
    faults = []
    for route in api_routes():
        if issubclass(route.endpoint, ListEndpoint):
            answer = operator.get(f"{path_of(route)}?{query}")
            faults += [(route.name, fault) for fault in faults_of(answer, 422)]
            faults += [(route.name, one) for one in answer.json()["problems"] if one["field"] != query.split("=")[0]]
    assert faults == []


@pytest.mark.slow
@pytest.mark.parametrize("value", IDS, ids=lambda value: value[:20])
def test_absurd_ids(operator, value):
    faults = []
    for route, method in each("GET", *WRITING):
        if "<" in route.path:
            answer = operator.generic(method, path_of(route, value), b"{}", content_type="application/json")
            faults += [(route.name, method, fault) for fault in faults_of(answer, 404, 405, 422, 428)]
    assert faults == []


@pytest.mark.slow
@pytest.mark.parametrize("method", [*WRITING, "TRACE", "PROPFIND"])
def test_wrong_methods(operator, method):
    faults = []
    for route in api_routes():
        if not hasattr(route.endpoint, method.lower()):
            answer = operator.generic(method, path_of(route))
            faults += [(route.name, fault) for fault in faults_of(answer, 405)]
    assert faults == []


@pytest.mark.parametrize("who", ["guest", "member"])
def test_guests_and_members_meet_the_same_shape(request, db, who):
    client, faults = request.getfixturevalue(who), []
    for route, method in each("GET", *WRITING):
        answer = client.generic(method, path_of(route), b"[]", content_type="application/json")
        if answer.status_code != 200:
            faults += [(route.name, method, one) for one in faults_of(answer, 400, 401, 403, 404, 405, 422, 428)]
    assert faults == []


def test_line_breaks_in_an_id_are_kept_out(operator):
    assert faults_of(operator.get("/api/v1/tokens/a%0d%0ab/"), 404) == []
