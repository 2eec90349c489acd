"""Submitting: the same question is answered once, a changed one anew, and too large a one not at all."""

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.test.utils import CaptureQueriesContext

from advisor import study, submit
from advisor.brief import read_brief
from advisor.models import Chunk, Outcome, Snapshot, State, Study
from advisor.running.stopping import stop
from advisor.submit import SubmitRefused, submit_study
from catalog.models import Fan
from tests.advisor.asking import ask, at, chunks, outcome_of
from tests.engine.record import found

GIVEN = {
    "processor_watts": 65,
    "board_form": "micro_atx",
    "drive_count": 3,
    "layout": "single_parity",
    "noise_target_dba": 40,
    "limit_drive_c": 60,
}


def send(now=0, owner=None, **options):
    """A study as someone sends it, over the catalogue in the database."""
    given = options.pop("given", GIVEN)
    reading = read_brief(given)
    return submit_study(
        brief=reading.brief, given=given, warnings=reading.warnings, owner=owner, now=at(now), **options
    )


@pytest.fixture
def ann(db):
    return User.objects.create(username="ann")


def test_a_study_is_recorded_with_all_it_takes(broker, ann):
    asked = ask(owner=ann, title="Mine")
    planned = study.plan(found.brief(), found.catalogue())
    outcome = outcome_of(asked)
    assert (asked.owner, asked.title, asked.created_at, asked.status) == (ann, "Mine", at(0), "queued")
    assert (outcome.snapshot_id, outcome.chunk_total) == (planned.catalog_hash, 3)
    assert {code: chunk.size for code, chunk in chunks(outcome).items()} == {
        code: study.chunk_size(planned, code) for code in planned.chunks
    }
    assert outcome.candidate_total == sum(chunk.size for chunk in chunks(outcome).values())


def test_it_is_handed_out_once_it_is_committed(broker):
    with broker.commit():
        ask()
        assert broker.waiting == []
    assert sorted(broker.told()) == ["drive_cube", "mesh_tower", "switched_tower"]


def test_ids_are_random_to_the_last_bit(broker):
    bits = [ask().id.int for _ in range(64)]
    for place in range(128):
        # that 64 random bits are all alike happens once in 2^63
        assert len({bits_of >> place & 1 for bits_of in bits}) == 2


def test_the_same_question_of_two_people_has_one_outcome(broker, ann):
    with broker.commit():
        first, second = ask(title="one"), ask(owner=ann, title="another")
    assert first.id != second.id and first.outcome_id == second.outcome_id
    assert (first.title, second.title) == ("one", "another")
    assert len(broker.told()) == 3


def test_a_finished_outcome_answers_at_once(broker):
    with broker.commit():
        ask()
    broker.work(lambda: at(1))
    with broker.commit():
        again = ask(at(5))
    assert submit.status_of(again, at(5)).status == "done" and broker.told() == []


@pytest.mark.parametrize("state", [State.FAILED, State.CANCELLED])
def test_what_has_no_answer_is_asked_anew(broker, state):
    first = ask()
    stop(outcome_of(first), state, at(1), "because" if state == State.FAILED else "")
    second = ask(at(2))
    assert second.outcome_id != first.outcome_id and second.status == "queued"


def test_another_brief_is_another_question(broker):
    assert ask().outcome_id != ask(noise_target_dba=41.0).outcome_id


def test_another_model_is_another_question(broker, monkeypatch):
    first = ask()
    monkeypatch.setattr(study, "MODEL_VERSION", "next")
    assert ask().outcome_id != first.outcome_id


def test_one_snapshot_serves_all_questions_over_it(broker):
    ask(), ask(noise_target_dba=41.0)
    assert Snapshot.objects.count() == 1


def test_a_brief_s_cautions_and_words_are_kept(broker, small_catalogue):
    given = GIVEN | {"graphics_watts": 150, "title": "Büro"}
    asked = send(given=given)
    assert asked.brief_given == given and asked.title == "Büro"
    assert asked.warnings and set(asked.warnings[0]) == {"field", "message"}


def test_an_edit_in_mid_study_changes_the_next_study_alone(broker, small_catalogue):
    with broker.commit():
        first = send()
    before = study.plan(read_brief(GIVEN).brief, submit.assembly.catalogue())
    expected = study.merge(before, [study.score_chunk(before, code) for code in before.chunks])
    Fan.objects.update(price=99)
    with broker.commit():
        second = send(1)
    broker.work(lambda: at(2))
    assert submit.status_of(first, at(3)).record == expected
    renewed = submit.status_of(second, at(3)).record
    assert renewed["catalog_hash"] != expected["catalog_hash"]
    assert renewed["shortlist"][0]["price"] > expected["shortlist"][0]["price"]


def test_own_parts_make_a_question_of_one_s_own(broker, small_catalogue, ann):
    shared = send(owner=ann)
    assert send().outcome_id == shared.outcome_id
    fan = Fan.objects.first()
    fan.pk, fan.code, fan.owner = None, "own-tag-fan", ann
    fan.save()
    assert send(owner=ann).outcome_id != shared.outcome_id == send().outcome_id


def test_a_repeated_word_means_the_same_study(broker, small_catalogue, ann):
    first = send(owner=ann, idempotency_key="k1")
    again = send(9, owner=ann, idempotency_key="k1")
    assert again.id == first.id and Study.objects.count() == 1


def test_the_same_word_of_others_means_theirs(broker, small_catalogue, ann):
    sent = [
        send(owner=ann, idempotency_key="k1"),
        send(guest="g1", idempotency_key="k1"),
        send(guest="g2", idempotency_key="k1"),
    ]
    assert len({one.id for one in sent}) == 3


def test_a_repeated_word_with_another_brief_is_refused(broker, small_catalogue, ann):
    send(owner=ann, idempotency_key="k1")
    with pytest.raises(SubmitRefused) as refused:
        send(owner=ann, idempotency_key="k1", given=GIVEN | {"noise_target_dba": 39})
    assert (refused.value.problem.field, refused.value.problem.value) == ("Idempotency-Key", "'k1'")
    assert "was sent with another brief; accepted: a key that was not sent before" in str(refused.value)


def test_too_many_candidates_are_refused_before_anything_is_kept(broker, settings):
    settings.STUDY_MOST_CANDIDATES = 10
    with pytest.raises(
        SubmitRefused, match="builds are more than one study may ask for; accepted: at most 10; require"
    ):
        ask()
    assert (Study.objects.count(), Outcome.objects.count(), Chunk.objects.count()) == (0, 0, 0)


def test_the_count_before_fan_sets_are_listed_is_never_too_small():
    for changes in ({}, {"drive_count": 0}, {"required_parts": ("turn",)}, {"excluded_parts": ("drive_cube",)}):
        planned = study.plan(found.brief(**changes), found.catalogue())
        exact = sum(study.chunk_size(planned, code) for code in planned.chunks)
        assert exact <= study.most_candidates(planned)
    planned = study.plan(found.brief(), found.catalogue())
    assert study.most_candidates(planned) == sum(study.chunk_size(planned, code) for code in planned.chunks)


def test_an_empty_catalogue_is_answered_with_an_empty_list(broker):
    with broker.commit():
        asked = ask(catalogue=type(found.catalogue())())
    broker.work(lambda: at(1))
    standing = submit.status_of(asked, at(2))
    assert (standing.status, standing.total, standing.record["shortlist"]) == ("done", 0, [])
    assert standing.record["counts"]["considered"] == 0


def test_queries_of_a_submission_do_not_grow_with_chunks(broker):
    ask()
    with CaptureQueriesContext(connection) as three:
        ask(noise_target_dba=41.0)
    with CaptureQueriesContext(connection) as one:
        ask(excluded_parts=("drive_cube", "mesh_tower"))
    assert len(three) == len(one) < 10
