"""``manage.py enter_enclosure FILE``: enclosures from a tape measure and a photograph into somebody's own parts."""

from __future__ import annotations

import sys
from argparse import ArgumentParser
from collections.abc import Mapping
from typing import Any

from django.conf import settings
from django.contrib.auth import get_user_model
from django.core.management.base import BaseCommand
from django.db import transaction

from advisor.accounts import tag_of
from advisor.tape.entering import derive, enter_enclosure, word_of
from advisor.tape.entry import TapeEntry
from advisor.tape.files import read_tape_file
from advisor.tape.showing import derived_lines
from catalog.importing.refusals import LoadRefused
from catalog.importing.single import TooManyOwn

# What is derived from, and what the file says.
Entered = tuple[TapeEntry, Mapping[str, Any]]

REFUSED = 2


class Refused(Exception):
    """A file is not taken; each argument is a line that says why."""


class Command(BaseCommand):
    help = "Enter enclosures from a YAML file by tape measure, as own parts of --owner, or only show what is derived."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "file", metavar="FILE", help="a YAML file with a list of entries; fixtures/tape/ has samples"
        )
        parser.add_argument("--owner", metavar="USERNAME", help="whose they shall be")
        parser.add_argument("--preview", action="store_true", help="show what would be derived and store nothing")

    def handle(self, *args: Any, file: str, owner: str | None, preview: bool, **options: Any) -> None:
        try:
            entries = _entries(file)
            if preview:
                self._show(entries)
            else:
                self._store(entries, owner)
        except Refused as refused:
            for line in refused.args:
                self.stderr.write(line)
            sys.exit(REFUSED)

    def _show(self, entries: list[Entered]) -> None:
        for entry, _ in entries:
            self.stdout.write(f"{entry.name} ({word_of(entry)}):")
            for line in derived_lines(derive(entry).derived):
                self.stdout.write(line)

    def _store(self, entries: list[Entered], owner: str | None) -> None:
        user = _person(owner)
        try:
            with transaction.atomic():
                made = [
                    enter_enclosure(entry=entry, given=given, owner=user, tag=tag_of(user), most=settings.OWN_PARTS)
                    for entry, given in entries
                ]
        except LoadRefused as refused:
            raise Refused(*map(str, refused.refusals)) from None
        except TooManyOwn as most:
            raise Refused(f"{owner} has {most} own parts, and that is how many one may have.") from None
        for row, result in made:
            self.stdout.write(f"{row.code}: {len(result.derived)} figures derived, private to {owner}")


def _entries(path: str) -> list[Entered]:
    """Return the entries of a file, or raise with everything that is wrong with any of them."""
    read = read_tape_file(path)
    lines = [
        f"{f'line {one.line}: ' if one.line else ''}{problem.message}"
        for one in read
        for problem in one.reading.problems
    ]
    if lines:
        raise Refused(*lines)
    return [(one.reading.entry, one.given) for one in read if one.reading.entry is not None]


def _person(username: str | None) -> Any:
    if username is None:
        raise Refused("Say whose they shall be (--owner USERNAME), or look first (--preview).")
    users = get_user_model()
    try:
        return users.objects.get_by_natural_key(username)
    except users.DoesNotExist:
        raise Refused(f"Nobody is called '{username:.150}'; sign up first, or name another with --owner.") from None
