"""``python -m tests.bench.after_imports BRIEF``: answer a brief; last printed are seconds of imports and after."""

from __future__ import annotations

import os
import sys
import time


def main(brief: str) -> None:
    """Do what ``manage.py advise`` does, with the clock read between."""
    start = time.perf_counter()
    os.environ["DJANGO_SETTINGS_MODULE"] = "advisor.project.settings"
    import django
    from django.core.management import call_command

    django.setup()
    from advisor.management.commands.advise import Command

    imported = time.perf_counter()
    call_command(Command(), brief)
    print(imported - start, time.perf_counter() - imported)


if __name__ == "__main__":
    main(sys.argv[1])
