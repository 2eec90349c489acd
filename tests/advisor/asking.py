"""Studies for tests: outcomes with invented chunks, and briefs over the small catalogue of hand-written enclosures."""

from datetime import UTC, datetime, timedelta
from itertools import count

from advisor import submit
from advisor.engine.version import MODEL_VERSION
from advisor.models import Chunk, Outcome
from advisor.running.questions import Question, outcome_for
from tests.engine.record import found

NOW = datetime(2031, 6, 1, 12, 0, tzinfo=UTC)
_numbers = count()


def at(seconds):
    """The moment so many seconds after the tests begin."""
    return NOW + timedelta(seconds=seconds)


def make_outcome(now=NOW, model_version=MODEL_VERSION, **sizes):
    """An outcome whose chunks have these sizes; nobody scores it, its parts do not exist."""
    number = next(_numbers)
    sizes = sizes or {"large": 30, "middle": 20, "small": 10}
    made, _ = outcome_for(Question(f"{number:064d}", "{}", "{}", f"{number:064d}", model_version, sizes), now)
    return made


def fresh(row):
    """A row as the database has it now."""
    return type(row)._default_manager.get(pk=row.pk)


def chunks(outcome):
    """The chunks of an outcome by enclosure."""
    return {chunk.enclosure: chunk for chunk in Chunk.objects.of_outcome(outcome.pk)}


def states(outcome):
    return {code: chunk.state for code, chunk in chunks(outcome).items()}


def ask(now=NOW, owner=None, brief=None, catalogue=None, **changes):
    """A study of the usual brief over the usual parts, or of others."""
    brief = brief or found.brief(**changes)
    parts = found.catalogue() if catalogue is None else catalogue
    return submit.submit_study(brief=brief, given={"title": brief.title}, owner=owner, now=now, catalogue=parts)


def outcome_of(study):
    return Outcome.objects.get(pk=study.outcome_id)
