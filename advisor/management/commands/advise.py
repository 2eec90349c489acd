"""``manage.py advise BRIEF.yaml``: answer a brief in the terminal, as a table or as JSON."""

from __future__ import annotations

import json
import os
import sys
from argparse import ArgumentParser, ArgumentTypeError
from concurrent.futures.process import BrokenProcessPool
from typing import Any, TextIO

from django.conf import settings
from django.core.management.base import BaseCommand
from django.db import DatabaseError, connections

from advisor.assembly import catalogue
from advisor.assembly.known import known_parts
from advisor.brief import read_brief_file
from advisor.engine.errors import EngineError, InputError
from advisor.engine.inputs import Brief, Catalogue
from advisor.management.scoring import answer
from advisor.reports.terminal import study_text

FAILED, REFUSED, STOPPED = 1, 2, 130
MOST_JOBS = 64


class Refused(Exception):
    """The question cannot be put; each argument is a line that says why."""


class Command(BaseCommand):
    help = "Score a brief over the catalogue and print its shortlist. Exits with 0 when answered, 2 for a bad brief."
    requires_system_checks = ()  # they import every page and address of the service, which no answer here needs

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("brief", metavar="BRIEF", help="a YAML file; fixtures/briefs/ has samples")
        parser.add_argument("--json", action="store_true", help="print the whole record of the study as JSON")
        parser.add_argument("--jobs", type=_jobs, default=settings.WORKERS, metavar="N", help="processes to score with")

    def handle(self, *args: Any, brief: str, jobs: int, **options: Any) -> None:
        try:
            self._answer(brief, jobs, as_json=options["json"], bar=options.get("stderr") or sys.stderr)
        except Refused as refused:
            self._leave(REFUSED, *refused.args)
        except InputError as error:
            self._leave(REFUSED, f"The brief cannot be computed: {error}")
        except EngineError as error:
            self._leave(FAILED, f"The study failed: {error}")
        except BrokenProcessPool:
            self._leave(FAILED, "The study failed: a process that scored was ended (out of memory?); try --jobs 1.")
        except KeyboardInterrupt:
            self._leave(STOPPED, "Stopped before the study was done.")
        except BrokenPipeError:
            # Whoever read the answer has gone; Python would complain once more when it closes the stream.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(FAILED)

    def _answer(self, path: str, jobs: int, *, as_json: bool, bar: TextIO) -> None:
        parts = _catalogue()
        brief = self._brief(path, parts)
        connections.close_all()
        record = answer(brief, parts, jobs=jobs, stream=bar)
        self.stdout.write(json.dumps(record, allow_nan=False) if as_json else study_text(record))
        self.stdout.flush()

    def _brief(self, path: str, parts: Catalogue) -> Brief:
        reading = read_brief_file(path, known_parts(parts))
        if reading.brief is None:
            raise Refused(*(problem.message for problem in reading.problems))
        for caution in reading.warnings:
            self.stderr.write(f"Note: {caution.message}", self.style.WARNING)
        return reading.brief

    def _leave(self, code: int, *lines: str) -> None:
        for line in lines:
            self.stderr.write(line)
        sys.exit(code)


def _catalogue() -> Catalogue:
    try:
        parts = catalogue()
    except DatabaseError as error:
        raise Refused(f"The catalogue cannot be read ({error}); run: python manage.py migrate") from None
    if not parts.enclosures:
        raise Refused("The catalogue is empty; load one first: python manage.py load_catalog fixtures/catalog")
    return parts


def _jobs(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= MOST_JOBS:
        raise ArgumentTypeError(f"'{text}' is not a whole number from 1 to {MOST_JOBS}")
    return int(text)
