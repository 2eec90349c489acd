"""A hundred studies on SQLite with two workers, two who send and a reader who polls: no lock error, all done."""

import yaml
from django.conf import settings
from django.db import connection

from advisor import study
from advisor.assembly import catalogue
from advisor.brief import read_brief
from advisor.models import Chunk, Outcome
from tests.service import many
from tests.service.undisturbed import undisturbed

SHELF = settings.BASE_DIR / "fixtures" / "briefs" / "small_two_drive_machine.yaml"
CHECKED = 20  # every so many studies, one is worked out again


def hold(machine, port, given, patience_s):
    """Send briefs while a reader polls, and return the seconds until all are done and how often the reader asked."""
    assert connection.vendor == "sqlite"
    machine.start_workers(2)
    machine.start_sweep()
    machine.start_web(port)
    reader = many.Reader(port)
    with reader.polling():
        sent = many.send_all(given)
        took = many.wait_until_done(sent, patience_s)
    assert set(reader.told) <= {"queued", "running", "done"} and reader.told
    assert (Outcome.objects.count(), many.attempts(), many.trouble(machine)) == (len(given), {1}, [])
    for one in sent[::CHECKED]:
        plan = study.plan(read_brief(one.brief_given).brief, catalogue())
        assert Outcome.objects.record_of(one.outcome_id) == undisturbed(plan)
    return f"{len(sent)} studies of {Chunk.objects.count()} chunks in {took:.0f} s, {len(reader.told)} polls, no error"


def test_a_hundred_studies_over_the_small_catalogue(service, free_port, measured):
    measured(hold(service, free_port, many.briefs(100), 400))


def test_some_over_the_demo_catalogue(demo, free_port, measured):
    base = yaml.safe_load(SHELF.read_text())
    measured(hold(demo, free_port, many.briefs(12, base), 400))
