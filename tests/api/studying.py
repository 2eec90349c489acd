"""Studies for the tests of their endpoints: a brief that the small catalogue answers, and the work of a worker."""

from advisor.models import Chunk, Outcome
from advisor.running import scoring

STUDIES = "/api/v1/studies/"
BRIEF = {"processor_watts": 65, "board_form": "micro_atx", "noise_target_dba": 60, "drive_count": 0}


def submit(client, brief=None, **headers):
    """Put a brief and return the answer."""
    return client.post(
        STUDIES, BRIEF if brief is None else brief, headers={k.replace("_", "-"): v for k, v in headers.items()}
    )


def work():
    """Do what workers do, until nothing is left."""
    for outcome in Outcome.objects.unfinished():
        for code in Chunk.objects.of_outcome(outcome.pk).left().values_list("enclosure", flat=True):
            scoring.score(outcome.pk, code)
        scoring.merge(outcome.pk)
