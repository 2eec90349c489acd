"""Who is who."""

import pytest
from django.contrib.auth.models import AnonymousUser, Group, User
from django.core.management import call_command

from advisor.access.roles import GROUPS, Role, role_of
from advisor.access.rules import allowed
from tests.advisor.access.people import make_person


@pytest.mark.parametrize(
    ("groups", "flags", "role"),
    [
        ((), {}, Role.MEMBER),
        ((), {"is_staff": True}, Role.MEMBER),
        (("reviewer",), {}, Role.REVIEWER),
        (("reviewer", "curator"), {}, Role.CURATOR),
        ((), {"is_superuser": True}, Role.OPERATOR),
        (("curator",), {"is_active": False}, Role.GUEST),
        ((), {"is_superuser": True, "is_active": False}, Role.GUEST),
    ],
)
def test_groups_and_flags_give_a_role(db, groups, flags, role):
    assert role_of(make_person("ann", *groups, **flags)) is role


def test_a_stranger_is_a_guest():
    assert role_of(AnonymousUser()) is Role.GUEST


def test_a_group_that_is_no_role_gives_nothing(db):
    Group.objects.create(name="gardeners")
    assert role_of(make_person("ann", "gardeners")) is Role.MEMBER


def test_migrating_makes_the_groups_again(db):
    Group.objects.all().delete()
    call_command("migrate", verbosity=0)
    assert set(Group.objects.values_list("name", flat=True)) == set(GROUPS)


def test_each_role_may_what_the_one_before_may(db):
    asked = ("api:fan-list", "POST")
    assert [allowed(*asked, person) for person in (AnonymousUser(), make_person())] == [False, True]
    assert allowed("api:fan-accept", "POST", make_person("bob", "curator"))
    assert not allowed("api:fan-accept", "POST", make_person("cat", "reviewer"))


def test_what_is_open_to_all_asks_no_database():
    assert allowed("api:fan-list", "GET", User(username="never saved"))


def test_what_no_rule_names_is_refused_to_all(db):
    operator = make_person("root", is_superuser=True)
    assert not allowed("api:nothing", "GET", operator)
    assert not allowed("api:fan-list", "TRACE", operator)
