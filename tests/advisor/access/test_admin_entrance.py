"""Who gets into the admin pages, and how."""

import pytest
from django.contrib.auth.models import User
from django.core.cache import cache
from django.urls import reverse

from tests.advisor.access.people import make_person

INDEX, LOGIN = reverse("admin:index"), reverse("admin:login")
PASSWORD = "warm-lemon-kettle"


@pytest.fixture(autouse=True)
def nobody_tried_yet():
    cache.clear()


def _sign_in(client, name, password=PASSWORD, **extra):
    return client.post(LOGIN, {"username": name, "password": password, "next": INDEX}, **extra)


def _with_password(name, *groups, **flags):
    person = make_person(name, *groups, **flags)
    person.set_password(PASSWORD)
    person.save()
    return person


def test_a_curator_signs_in_without_being_staff(client, db):
    _with_password("cora", "curator")
    assert _sign_in(client, "cora").url == INDEX
    assert client.get(INDEX).status_code == 200


@pytest.mark.parametrize("groups", [(), ("reviewer",)])
def test_others_are_told_for_whom_the_pages_are(client, db, groups):
    _with_password("mara", *groups, is_staff=True)
    answer = _sign_in(client, "mara")
    assert answer.status_code == 200 and "for curators, and this account is none" in answer.content.decode()
    assert client.get(INDEX).url.startswith(LOGIN)


def test_a_permission_given_to_one_account_opens_nothing(client, db):
    from django.contrib.auth.models import Permission

    person = make_person("mara", is_staff=True)
    person.user_permissions.set(Permission.objects.filter(content_type__app_label="catalog"))
    assert not User.objects.get(pk=person.pk).has_perm("catalog.change_fan")
    client.force_login(person)
    assert client.get(reverse("admin:catalog_fan_changelist")).status_code == 403


def test_a_curator_keeps_the_catalogue_and_no_people(client, db):
    client.force_login(make_person("cora", "curator"))
    page = client.get(INDEX).content.decode()
    assert reverse("admin:catalog_fan_changelist") in page
    for hidden in ("auth_user", "auth_group", "advisor_study", "advisor_outcome"):
        address = reverse(f"admin:{hidden}_changelist")
        assert address not in page and client.get(address).status_code == 403


def test_an_operator_keeps_people_too(admin_client):
    page = admin_client.get(INDEX).content.decode()
    assert reverse("admin:auth_user_changelist") in page and reverse("admin:advisor_study_changelist") in page


def test_passwords_cannot_be_tried_without_end(client, db, settings):
    _with_password("cora", "curator")
    most = int(settings.RATES["sign_in"]["guest"].split("/")[0])
    for _ in range(most):
        assert _sign_in(client, "cora", "wrong").status_code == 200
    answer = _sign_in(client, "cora")
    assert answer.status_code == 429 and 1 <= int(answer["Retry-After"]) <= 60
    assert _sign_in(client, "cora", REMOTE_ADDR="192.0.2.7").status_code == 302


def test_the_index_asks_as_often_however_many_tables_there_are(client, db, django_assert_max_num_queries):
    client.force_login(make_person("cora", "curator"))
    with django_assert_max_num_queries(8):
        client.get(INDEX)
