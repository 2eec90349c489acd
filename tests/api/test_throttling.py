"""How often a person or an address may ask."""

import pytest
from django.contrib.auth.models import AnonymousUser
from rest_framework.request import Request
from rest_framework.test import APIRequestFactory

from advisor import rates
from advisor.rates import client_address
from api.throttling import RateLimit
from tests.api.test_root import problem_of

ROOT = "/api/v1/"


class View:
    def scope(self, method):
        return "read"


class Clock:
    now = 1_000_000.0

    def time(self):
        return self.now


@pytest.fixture
def clock(monkeypatch, settings):
    settings.RATES = settings.RATES | {"read": {"guest": "4/minute", "member": "4/minute"}}
    found = Clock()
    found.now = 60.0 * 20_000
    monkeypatch.setattr(rates, "time", found)
    return found


def request_from(address, **meta):
    request = Request(APIRequestFactory().get("/", REMOTE_ADDR=address, **meta))
    request.user = AnonymousUser()
    return request


def passes(address="192.0.2.1"):
    return RateLimit().allow_request(request_from(address), View())


def test_it_lets_pass_as_many_as_the_rate(clock):
    assert [passes() for _ in range(6)] == [True] * 4 + [False] * 2


def test_addresses_count_apart(clock):
    assert [passes() for _ in range(5)].count(True) == 4
    assert passes("192.0.2.2")


def test_end_of_a_window_is_no_moment_for_twice_as_much(clock):
    clock.now += 59
    assert [passes() for _ in range(4)] == [True] * 4
    clock.now += 2
    assert [passes() for _ in range(2)] == [True, False]


def test_after_two_windows_nothing_is_left(clock):
    assert [passes() for _ in range(5)][-1] is False
    clock.now += 120
    assert [passes() for _ in range(4)] == [True] * 4


def test_answer_says_when_to_try_again(guest, clock):
    for _ in range(4):
        assert guest.get(ROOT).status_code == 200
    clock.now += 20
    answer = guest.get(ROOT)
    assert answer["Retry-After"] == "40"
    assert "40 s" in problem_of(answer, 429)["detail"]


def test_account_counts_apart_from_its_address(guest, member, clock):
    for _ in range(4):
        guest.get(ROOT)
    assert member.get(ROOT).status_code == 200


@pytest.mark.parametrize(
    ("proxies", "forwarded", "address"),
    [
        (0, "203.0.113.9", "192.0.2.1"),
        (1, "203.0.113.9", "203.0.113.9"),
        (1, "198.51.100.1, 203.0.113.9", "203.0.113.9"),
        (2, "198.51.100.1, 203.0.113.9", "198.51.100.1"),
        (2, "203.0.113.9", "203.0.113.9"),
        (1, "nonsense", "unknown"),
        (1, "2001:db8::1", "2001:db8::/64"),
        (1, "2001:db8::ffff:1", "2001:db8::/64"),
        (1, "::ffff:192.0.2.7", "192.0.2.7"),
    ],
)
def test_only_trusted_proxies_tell_the_address(settings, proxies, forwarded, address):
    settings.PROXIES = proxies
    assert client_address(request_from("192.0.2.1", HTTP_X_FORWARDED_FOR=forwarded)) == address
