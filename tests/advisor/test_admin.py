"""Studies and outcomes on the admin pages."""

import re

import pytest
from django.contrib.auth.models import User
from django.urls import reverse
from django.utils.html import strip_tags

from advisor.models import Outcome, Study
from advisor.states import ChunkState
from tests.advisor.access.making import NOW, make_study
from tests.advisor.access.people import make_person
from tests.catalog.pages import breaks_policy

STUDIES, OUTCOMES = (reverse(f"admin:advisor_{name}_changelist") for name in ("study", "outcome"))


@pytest.fixture
def ann(db):
    return User.objects.create(username="ann")


@pytest.fixture
def failed(ann):
    study = make_study(ann, state="failed", failure="no worker came", started_at=NOW, finished_at=NOW)
    study.outcome.chunks.create(enclosure="tower", size=6, state=ChunkState.DONE, result=b"x")
    study.outcome.chunks.create(enclosure="cube", size=4, last_error="killed")
    Outcome.objects.update(chunk_total=2)
    return study


def _page_of(row):
    return reverse(f"admin:advisor_{row._meta.model_name}_change", args=[row.pk])


def _words(answer):
    assert answer.status_code == 200
    return re.sub(r"\s+", " ", strip_tags(answer.content.decode()))


def test_a_study_shows_how_far_it_has_come_and_why_it_failed(admin_client, failed):
    for address in (STUDIES, _page_of(failed)):
        words = _words(admin_client.get(address))
        assert all(said in words for said in ("ann", "failed", "1 of 2", "no worker came", "1 Jun")), address


def test_an_outcome_shows_its_pieces(admin_client, failed):
    words = _words(admin_client.get(_page_of(failed.outcome)))
    assert all(said in words for said in ("1 of 2", "6 of 10", "no worker came", "tower", "cube", "killed"))
    assert "6 of 10" in _words(admin_client.get(OUTCOMES))


def test_a_cancelled_study_says_so_whatever_its_outcome(admin_client, failed):
    Study.objects.update(cancelled_at=NOW)
    assert "State: cancelled" in _words(admin_client.get(_page_of(failed)))


def test_studies_are_found_by_what_they_are_called(admin_client, ann, failed):
    other = make_study()
    for words, found in ((str(other.pk), other), ("ann", failed), ("no worker", failed)):
        assert list(admin_client.get(STUDIES, {"q": words}).context["cl"].queryset) == [found]


def test_nothing_can_be_written(admin_client, failed):
    for row in (failed, failed.outcome):
        assert 'name="_save"' not in admin_client.get(_page_of(row)).content.decode()
        assert admin_client.post(_page_of(row), {}).status_code == 405


def test_curators_do_not_see_what_people_asked(client, db, failed):
    client.force_login(make_person("cora", "curator"))
    for address in (STUDIES, OUTCOMES, _page_of(failed), _page_of(failed.outcome)):
        assert client.get(address).status_code == 403


@pytest.mark.parametrize("address", [STUDIES, OUTCOMES])
def test_a_list_takes_as_many_queries_however_long(admin_client, ann, failed, django_assert_num_queries, address):
    with django_assert_num_queries(50, exact=False) as before:
        admin_client.get(address)
    for _ in range(4):
        make_study(ann)
    with django_assert_num_queries(len(before)):
        admin_client.get(address)


def test_pages_hold_no_inline_script_or_style(admin_client, failed):
    for address in (STUDIES, OUTCOMES, _page_of(failed), _page_of(failed.outcome)):
        assert breaks_policy(admin_client.get(address).content.decode()) == []
