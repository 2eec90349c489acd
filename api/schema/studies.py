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
    number,
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
_CODE = text("Code.")
_FANS = "Codes of their fans, several joined by `+`, or `none`."
COLUMNS = record(
    "Columns of one length; the codes of a build joined by `~` are its id.",
    enclosure=many(_CODE, "Enclosures."),
    intake=many(text(_FANS), "Intakes."),
    exhaust=many(text(_FANS), "Exhausts."),
    cooler=many(_CODE, "Coolers."),
    supply=many(_CODE, "Power supplies."),
    drive=many(text("Code, or `none`."), "Drives."),
    drive_count=many(whole("Drives.", minimum=0), "How many drives are in it."),
    noise_dba=many(number("Level.", "dBA"), "Level of the machine alone in the loudest scenario that is judged."),
    headroom_k=many(number("Distance.", "K"), "Least distance of any part from its limit, at the brief's confidence."),
    spare_places=many(whole("Drives."), "More drives that it takes, beyond the bays that the brief keeps free."),
    price=many(number("Price.", minimum=0), "Price of all parts, in the brief's currency."),
    desirability=many(number("From 0 to 1.", minimum=0, maximum=1), "What each is worth, as in the shortlist."),
)
_NO_FRONT = "null until the study is done, and where a release without fronts answered it."
FRONT = record(
    "Builds that no other judged one of the study beats or equals in all of noise, headroom, spare places and price.",
    study=address("Address of the study."),
    status=STATUS,
    note=or_null(text(f"What they were chosen from; {_NO_FRONT}")),
    accepted=or_null(whole(f"Builds that were judged and accepted; {_NO_FRONT}", minimum=0)),
    pruned=or_null(whole(f"Builds that were not judged, since they could not make the list; {_NO_FRONT}", minimum=0)),
    left_out=or_null(
        whole(f"The least desirable builds, left out where the front was too long to keep; {_NO_FRONT}", minimum=0)
    ),
    columns=or_null(with_help(named("FrontColumns"), f"The builds, the quietest first; {_NO_FRONT}")),
)

COMPONENTS: dict[str, Schema] = {
    "Brief": brief_schema(),
    "Progress": PROGRESS,
    "Counts": COUNTS,
    "Study": STUDY,
    "StudySummary": SUMMARY,
    "Front": FRONT,
    "FrontColumns": COLUMNS,
}
