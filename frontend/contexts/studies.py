"""Studies on pages: one on its way, and a list of one's own."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse
from django.utils import formats

from advisor.models import Study
from advisor.reports.standing import StudyStatus
from advisor.states import UNFINISHED, State
from frontend.contexts.tables import Cell, Column, Table
from frontend.templatetags.quantities import count, counted

# What a state is called, and the shape and colour that go with the word.
STATES = {
    State.QUEUED: ("waits for its turn", "open"),
    State.RUNNING: ("being worked on", "open"),
    State.DONE: ("done", "good"),
    State.FAILED: ("failed", "bad"),
    State.CANCELLED: ("cancelled", "warn"),
}
_COLUMNS = (Column("Study"), Column("State"), Column("Sent"), Column("Brief"))


@dataclass(frozen=True, slots=True)
class StudyPage:
    """A study that is not done, at one moment; ``guest`` says that whoever has its address may open it.

    ``key`` names the form that sends its brief again, so that two clicks make one study.
    """

    identity: str
    title: str
    state: str
    words: str
    look: str
    unfinished: bool
    builds: str
    enclosures: str
    done: int
    total: int
    sent: str
    failure: str
    guest: bool
    cautions: tuple[str, ...]
    key: str


def study_page(study: Study, standing: StudyStatus) -> StudyPage:
    """Return how a study stands."""
    words, look = STATES[State(standing.status)]
    return StudyPage(
        identity=str(study.pk),
        title=name_of(study),
        state=standing.status,
        words=words,
        look=look,
        unfinished=standing.status in UNFINISHED,
        builds=f"{count(standing.done)} of {count(standing.total)}",
        enclosures=f"{standing.chunks_done} of {counted(standing.chunks_total, 'enclosure')}",
        done=standing.done,
        total=max(standing.total, 1),
        sent=moment(study.created_at),
        failure=standing.failure,
        guest=study.owner_id is None,
        cautions=tuple(one["message"] for one in study.warnings),
        key=uuid.uuid4().hex,
    )


def study_table(studies: Iterable[Study]) -> Table:
    """Return one's own studies as a table."""
    rows = (
        (
            Cell(name_of(study), reverse("pages:study", args=[study.pk])),
            Cell(STATES[State(study.status)][0]),
            Cell(moment(study.created_at)),
            Cell("change it", f"{reverse('pages:brief')}?from={study.pk}"),
        )
        for study in studies
    )
    return Table("Your studies, newest first", _COLUMNS, tuple(rows), "You have sent no study yet.")


def name_of(study: Study) -> str:
    """Return a study's title, or when it was sent."""
    return study.title or f"Study of {moment(study.created_at)}"


def moment(at: datetime) -> str:
    """Return a moment as pages say it."""
    return f"{formats.date_format(at, 'j F Y, H:i')} UTC"
