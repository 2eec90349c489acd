"""A study on its way: progress with and without a script, leaving it, stopping it, and other people's addresses."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from advisor.models import Chunk, Outcome, Study
from advisor.states import ChunkState, State
from tests.api.studying import work
from tests.frontend.pages import Form, queries, typed

pytestmark = pytest.mark.usefixtures("small_catalogue")


def send(client, **changes):
    answer = client.post("/brief/", typed(key=uuid.uuid4().hex, **changes))
    assert answer.status_code == 302, answer.content.decode()
    return answer.url


def fail(why):
    Outcome.objects.update(state=State.FAILED, failure=why)


class TestRunning:
    def test_it_says_how_far_it_is(self, guest):
        page = guest.get(send(guest, title="Shelf"))
        text = Form(page).text
        assert page.status_code == 200 and "Shelf" in text
        assert "0 of 1 enclosure finished" in text and "looked at" in text

    def test_without_a_script_it_loads_itself_again(self, guest):
        assert '<noscript><meta http-equiv="refresh"' in guest.get(send(guest)).content.decode()

    def test_with_one_only_a_part_is_asked_for(self, guest):
        address = send(guest)
        assert f'hx-get="{address}progress/"' in guest.get(address).content.decode()
        part = guest.get(f"{address}progress/", headers={"hx-request": "true"})
        assert part.status_code == 200 and b"<html" not in part.content and b"hx-trigger" in part.content

    def test_address_can_be_kept(self, guest, member):
        assert "whoever has it can see this study" in Form(guest.get(send(guest))).text
        page = Form(member.get(send(member)))
        assert "only you can open it" in page.text and "/studies/" in page.links

    def test_cautions_are_told(self, guest):
        assert "the room will drown it" in Form(guest.get(send(guest, noise_target_dba="20"))).text

    def test_nothing_of_it_is_kept_by_caches(self, guest):
        assert guest.get(send(guest))["Cache-Control"] == "private, no-cache"


class TestDone:
    @pytest.fixture
    def address(self, guest):
        found = send(guest)
        work()
        return found

    def test_polling_ends_and_the_page_is_loaded_again(self, guest, address):
        part = guest.get(f"{address}progress/", headers={"hx-request": "true"})
        assert part.status_code == 286 and part["HX-Refresh"] == "true" and b"hx-trigger" not in part.content

    def test_shortlist_is_there(self, guest, address):
        page = guest.get(address)
        assert "frontend/_shortlist.html" in [template.name for template in page.templates]
        assert b"http-equiv" not in page.content


class TestEnded:
    def test_failure_is_told_with_what_to_do(self, guest):
        address = send(guest)
        fail("the fan <b>curve</b> ends at 0.06 m3/s")
        page = guest.get(address)
        assert "&lt;b&gt;curve" in page.content.decode() and "Send it again" in Form(page).text
        assert f"/brief/?from={address.split('/')[2]}" in Form(page).links

    def test_it_can_be_sent_again_from_there(self, guest):
        address = send(guest)
        fail("by accident")
        page = Form(guest.get(address))
        answer = guest.post("/brief/", {name: page[name] for name in ("at_once", "from", "key")})
        assert answer.status_code == 302 and answer.url != address
        assert "by accident" not in Form(guest.get(answer.url)).text

    def test_cancelling_stops_it(self, guest):
        address = send(guest)
        answer = guest.post(f"{address}cancel/", follow=True)
        assert answer.redirect_chain == [(address, 302)] and "You cancelled this study" in Form(answer).text
        assert Outcome.objects.get().state == State.CANCELLED

    def test_cancelling_twice_says_so(self, guest):
        address = send(guest)
        guest.post(f"{address}cancel/")
        assert "had ended before" in Form(guest.post(f"{address}cancel/", follow=True)).text

    def test_cancelling_needs_a_post(self, guest):
        assert guest.get(f"{send(guest)}cancel/").status_code == 405


class TestOthers:
    @pytest.mark.parametrize("end", ["", "progress/"])
    def test_anothers_answers_as_none(self, member, other, guest, end):
        theirs, none = f"{send(member)}{end}", f"/studies/{uuid.UUID(int=1)}/{end}"
        for client in (other, guest):
            answers = [client.get(address) for address in (theirs, none)]
            assert [answer.status_code for answer in answers] == [404, 404]
            assert Form(answers[0]).text == Form(answers[1]).text
        assert member.get(theirs).status_code == 200

    def test_anothers_cannot_be_cancelled(self, member, other):
        address = send(member)
        assert other.post(f"{address}cancel/").status_code == 404
        assert Study.objects.get().cancelled_at is None

    def test_not_found_says_what_to_do(self, guest):
        page = guest.get("/studies/no-uuid/")
        assert page.status_code == 404 and "told to nobody" in Form(page).text


class TestList:
    def test_it_shows_ones_own_newest_first(self, member, other, guest):
        for client, title in ((member, "First"), (other, "Theirs"), (guest, "Nobodys"), (member, "Last")):
            send(client, title=title)
        text = Form(member.get("/studies/")).text
        assert 0 < text.index("Last") < text.index("First") and "Theirs" not in text and "Nobodys" not in text

    def test_guests_are_asked_to_sign_in(self, guest):
        assert guest.get("/studies/").url == "/sign-in/?next=/studies/"

    @pytest.mark.parametrize("page", ["", "x", "-1", "999999999999999999999"])
    def test_page_that_does_not_exist_is_the_nearest(self, member, page):
        send(member, title="First")
        assert "First" in Form(member.get(f"/studies/?page={page}")).text

    def test_queries_do_not_grow(self, member, settings):
        settings.UNFINISHED_STUDIES = {"guest": 9, "member": 9}
        send(member)
        before = queries(member, "/studies/")
        for _ in range(4):
            send(member)
        assert queries(member, "/studies/") == before <= 5


@pytest.mark.parametrize("end", ["", "progress/"])
def test_queries_of_a_study_do_not_grow_with_studies(guest, settings, end):
    settings.UNFINISHED_STUDIES = {"guest": 9, "member": 9}
    address = send(guest) + end
    before = queries(guest, in_work(address))
    for number in range(4):
        send(guest, noise_target_dba=str(50 + number))
    assert queries(guest, in_work(address)) == before <= 3


def in_work(address):
    """Let workers hold everything, so that nobody has to look after it."""
    held = {
        "state": ChunkState.RUNNING,
        "lease_token": uuid.uuid4(),
        "lease_until": timezone.now() + timedelta(hours=1),
    }
    Chunk.objects.update(**held)
    return address
