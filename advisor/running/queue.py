"""What is said to the broker: which work may be begun. It may lose it, and it may say it twice."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from celery import current_app
from kombu.exceptions import OperationalError

logger = logging.getLogger(__name__)

# Names of the tasks, so that work can be handed out from below the room that runs it.
SCORE_CHUNK = "advisor.score_chunk"
MERGE = "advisor.merge"


class BrokerAway(Exception):
    """The broker cannot be reached; what was to be said is said later."""


@dataclass(frozen=True, slots=True)
class Work:
    """What a worker is asked to begin: the chunk of an enclosure, or the merge of an outcome where it names none."""

    outcome_id: int
    enclosure: str = ""

    def send(self) -> None:
        """Hand it to the broker."""
        name, args = (SCORE_CHUNK, (self.outcome_id, self.enclosure)) if self.enclosure else (MERGE, (self.outcome_id,))
        with _broker():
            current_app.send_task(name, args)


def depth() -> int:
    """Return how many messages wait in the queue; those that a worker has taken are not among them."""
    with _broker(), current_app.pool.acquire(block=True) as connection:
        queue = current_app.amqp.queues[current_app.conf.task_default_queue]
        return int(queue.bind(connection.default_channel).queue_declare().message_count)


@contextmanager
def _broker() -> Iterator[None]:
    """Say in one way that the broker is away; each transport has its own errors for it."""
    errors = (OperationalError, *current_app.connection_for_write().connection_errors)
    try:
        yield
    except errors as error:
        logger.warning("The broker cannot be reached (%s); what it should know is told again later.", error)
        raise BrokerAway(str(error)) from error
