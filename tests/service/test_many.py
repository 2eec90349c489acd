"""Several studies at once with two workers and a reader; `make chaos` sends a hundred."""

import pytest

from advisor import study
from advisor.assembly import catalogue
from advisor.brief import read_brief
from advisor.models import Outcome
from tests.service import many
from tests.service.undisturbed import undisturbed

pytestmark = pytest.mark.slow

STUDIES = 12


def test_studies_of_several_people_are_all_done_without_a_lock_error(service, free_port):
    service.start_workers(2)
    service.start_sweep()
    service.start_web(free_port)
    reader = many.Reader(free_port)
    with reader.polling():
        sent = many.send_all(many.briefs(STUDIES))
        many.wait_until_done(sent, 120)
    assert set(reader.told) <= {"queued", "running", "done"} and reader.told
    assert (Outcome.objects.count(), many.attempts(), many.trouble(service)) == (STUDIES, {1}, [])
    last = sent[-1]
    alone = undisturbed(study.plan(read_brief(last.brief_given).brief, catalogue()))
    assert Outcome.objects.record_of(last.outcome_id) == alone
