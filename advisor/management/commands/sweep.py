"""``manage.py sweep``: hand out again what a dead worker or broker dropped, once or for as long as it runs."""

from __future__ import annotations

import logging
import time
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand
from django.db import DatabaseError, connections
from django.utils import timezone

from advisor.running.sweeping import EVERY_S, sweep

logger = logging.getLogger(__name__)


class Command(BaseCommand):
    help = "Put back work that nobody holds any more, and hand out what may be begun."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--forever", action="store_true", help=f"sweep every {EVERY_S:g} s until it is ended")

    def handle(self, *args: Any, forever: bool, **options: Any) -> None:
        if not forever:
            self.stdout.write(f"{len(sweep(timezone.now()))} pieces of work handed out")
            return
        while True:
            _sweep_through()
            time.sleep(EVERY_S)


def _sweep_through() -> None:
    """Sweep once; a database that is away or busy now may be back the next time."""
    try:
        handed_out = sweep(timezone.now())
    except DatabaseError as error:
        logger.warning("The database could not be swept (%s); trying again in %g s.", error, EVERY_S)
    else:
        if handed_out:
            logger.info("%d pieces of work handed out.", len(handed_out))
    connections.close_all()
