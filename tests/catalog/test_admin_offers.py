"""Accepting and declining offered parts on the admin pages."""

import pytest
from django.contrib.admin.models import LogEntry
from django.contrib.auth.models import User
from django.urls import reverse

from catalog.models import Fan
from catalog.offers import offer
from tests.catalog.owning import make_own
from tests.catalog.pages import breaks_policy

LIST = "admin:catalog_fan_changelist"


@pytest.fixture
def keeper(admin_client, loaded):
    return admin_client


@pytest.fixture
def offered(keeper, now):
    ann = User.objects.create(username="ann")
    return [
        offer(part=make_own(Fan.objects.public().first(), ann, word), by=ann, now=now) for word in ("first", "second")
    ]


def _choose(keeper, parts, action, **given):
    return keeper.post(reverse(LIST), {"action": action, "_selected_action": [part.pk for part in parts], **given})


def _texts(parts, asked, *texts):
    return {f"{asked}-{part.pk}": text for part, text in zip(parts, texts, strict=True)}


@pytest.mark.parametrize(("action", "asked"), [("accept_offers", "code"), ("decline_offers", "note")])
def test_an_action_asks_for_a_text_for_each_part(keeper, offered, action, asked):
    page = _choose(keeper, offered, action)
    html = page.content.decode()
    assert page.status_code == 200 and all(f'name="{asked}-{part.pk}"' in html for part in offered)
    assert breaks_policy(html) == []
    assert Fan.objects.offered().count() == 2


def test_accepted_parts_are_public(keeper, offered):
    answer = _choose(keeper, offered, "accept_offers", **_texts(offered, "code", "marl-1", "marl-2"))
    assert answer.status_code == 302
    assert {fan.code for fan in Fan.objects.public()} >= {"marl-1", "marl-2"}
    assert "Accepted as marl-1" in {entry.change_message for entry in LogEntry.objects.all()}


def test_declined_parts_go_back_with_their_notes(keeper, offered):
    _choose(keeper, offered, "decline_offers", **_texts(offered, "note", "Too loud to be true.", "Which bench?"))
    assert not Fan.objects.offered()
    assert {fan.decline_note for fan in Fan.objects.private()} == {"Too loud to be true.", "Which bench?"}


def test_one_refusal_leaves_all_as_they_were(keeper, offered):
    page = _choose(keeper, offered, "accept_offers", **_texts(offered, "code", "marl-1", "fan-120"))
    html = page.content.decode()
    assert "fan-120 is the code of a public fan already" in html and 'value="marl-1"' in html
    assert Fan.objects.offered().count() == 2 and not LogEntry.objects.exists()


def test_what_is_not_on_offer_is_left_alone(keeper, offered):
    answer = _choose(keeper, list(Fan.objects.public()), "accept_offers")
    assert answer.status_code == 302
    page = keeper.get(reverse(LIST))
    assert "None of these is on offer" in str(next(iter(page.context["messages"])))


def test_another_was_faster(keeper, offered):
    texts = _texts(offered, "code", "marl-1", "marl-2")
    _choose(keeper, offered[:1], "accept_offers", **_texts(offered[:1], "code", "marl-0"))
    _choose(keeper, offered, "accept_offers", **texts)
    assert {fan.code for fan in Fan.objects.public()} >= {"marl-0", "marl-2"}
