"""``manage.py export_catalog FOLDER``: write the catalogue as files that ``load_catalog`` reads."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from catalog.exporting import export_catalog


class Command(BaseCommand):
    help = "Write the whole catalogue into a new or empty folder, as files that load_catalog reads."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, help="a folder that does not exist yet or is empty")

    def handle(self, *args: Any, folder: Path, **options: Any) -> None:
        try:
            if folder.exists() and any(folder.iterdir()):
                raise CommandError(f"{folder} is not empty; name a new folder", returncode=2)
            written = export_catalog(folder=folder)
        except OSError as error:
            raise CommandError(f"{folder} cannot be written: {error.strerror}", returncode=2) from None
        self.stdout.write(f"{len(written)} files written below {folder}")
