"""``manage.py load_catalog PATH``: bring the catalogue to what the files say."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from catalog.importing.loading import load_catalog
from catalog.importing.refusals import LoadRefused


class Command(BaseCommand):
    help = "Load catalogue files: all of them or, when a single value is bad, none. Loading again changes nothing."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("path", type=Path, help="a folder with catalogue files, or one such file")
        parser.add_argument("--prune", action="store_true", help="remove parts that no file names any more")

    def handle(self, *args: Any, path: Path, prune: bool, **options: Any) -> None:
        try:
            report = load_catalog(path=path, prune=prune, at=timezone.now())
        except LoadRefused as error:
            count = len(error.refusals)
            raise CommandError(f"{count} refused, nothing was loaded\n{error}", returncode=2) from None
        self.stdout.write(str(report))
