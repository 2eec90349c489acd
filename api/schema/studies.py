"""Studies in answers."""

from __future__ import annotations

from advisor.engine.fit import ORDER
from advisor.states import State
from api.schema.brief import WARNINGS, brief_schema
from api.schema.shapes import (
    Schema,
    address,
    by_name,
    many,
    moment,
    named,
    one_of,
    or_null,
    record,
    text,
    whole,
    with_help,
)

STATUS = one_of(State.values, "How far the study has come.")
_KNOWN: dict[str, Schema] = {
    "id": text("What names the study: 128 random bits.", format="uuid"),
    "url": address("Its address."),
    "status": STATUS,
    "title": text("A name for people."),
    "created_at": moment("When the brief was sent (UTC)."),
}
COUNTS = record(
    "Every candidate is counted once: considered = accepted + rejected + pruned.",
    considered=whole("Candidates in all.", minimum=0),
    accepted=whole("Those that keep every limit.", minimum=0),
    rejected=by_name(
        whole("Candidates.", minimum=0), f"Those that do not, by the first requirement missed: {', '.join(ORDER)}."
    ),
    pruned=whole("Those proven unable to make the list.", minimum=0),
)
PROGRESS = record(
    "How much is done.",
    done=whole("Candidates dealt with.", minimum=0),
    total=whole("Candidates in all.", minimum=0),
    enclosures_done=whole("Enclosures whose candidates are all dealt with.", minimum=0),
    enclosures_total=whole("Enclosures in all.", minimum=0),
)
_UNTIL_DONE = "null until the study is done."
STUDY = record(
    "A brief and, once it is done, what was found for it.",
    **_KNOWN,
    brief=named("Brief"),
    warnings=WARNINGS,
    progress=named("Progress"),
    failure=or_null(text("Why there is no answer; null unless the study failed.")),
    counts=or_null(with_help(named("Counts"), f"What became of all candidates; {_UNTIL_DONE}")),
    shortlist=or_null(many(named("ShortlistEntry"), f"The best builds, ranked, at most 20; {_UNTIL_DONE}")),
    nearest_misses=or_null(
        many(named("NearMiss"), f"For each enclosure without an accepted build the one nearest to it; {_UNTIL_DONE}")
    ),
    notes=or_null(many(text("A sentence."), f"What is true of the whole list; {_UNTIL_DONE}")),
    cautions=or_null(many(text("A sentence."), f"What to know before you build; {_UNTIL_DONE}")),
    model_version=text("Version of the model that answers."),
    catalog_hash=text("SHA-256 of the catalogue that it is answered from.", pattern="^[0-9a-f]{64}$"),
)
SUMMARY = record("A study in a list.", **_KNOWN)

COMPONENTS: dict[str, Schema] = {
    "Brief": brief_schema(),
    "Progress": PROGRESS,
    "Counts": COUNTS,
    "Study": STUDY,
    "StudySummary": SUMMARY,
}
