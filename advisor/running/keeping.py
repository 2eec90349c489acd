"""Keeping a lease while its work is done, and noticing when it was lost."""

from __future__ import annotations

import logging
import threading
from datetime import datetime
from typing import Self

from django.db import InterfaceError, OperationalError, connection
from django.utils import timezone

from advisor.models import Chunk
from advisor.running.leases import Lease

logger = logging.getLogger(__name__)

RENEWAL_S = 10.0


class LeaseLost(Exception):
    """Nobody waits for this work any more, or somebody else was given it."""


class Keeper:
    """Renews a lease from a thread of its own, however long one step of the work takes.

    ``scored`` counts the candidates that were dealt with, as people see it.
    """

    def __init__(self, lease: Lease) -> None:
        self.lease = lease
        self.scored = 0
        self._lost, self._end = threading.Event(), threading.Event()
        self._thread = threading.Thread(target=self._renew_until_the_end, daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._end.set()
        self._thread.join()

    def progress(self, count: int) -> None:
        """Count candidates that were dealt with; stop where the lease was lost."""
        self.scored += count
        if self._lost.is_set():
            raise LeaseLost

    def renew(self, now: datetime) -> None:
        """Hold the work for another while."""
        counted = {"scored": self.scored} if self.lease.model is Chunk else {}
        if not self.lease.renew(now, **counted):
            self._lost.set()

    def _renew_until_the_end(self) -> None:
        try:
            while not self._end.wait(RENEWAL_S):
                try:
                    self.renew(timezone.now())
                except (OperationalError, InterfaceError) as error:
                    # A lease that ran out still holds until somebody else is given the work.
                    logger.warning("A lease could not be renewed (%s); trying again in %g s.", error, RENEWAL_S)
                    connection.close()
        finally:
            connection.close()
