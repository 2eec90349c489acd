#!/usr/bin/env python
"""Run one of the project's commands; ``python manage.py help`` lists them."""

import gc
import os
import sys


def main() -> None:
    # What imports leave behind stays; looking through it for rubbish again and again was a fifth of the start.
    gc.set_threshold(200_000)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "advisor.project.settings")
    from django.core.management import execute_from_command_line

    from advisor.project.env import EnvError

    try:
        execute_from_command_line(sys.argv)
    except EnvError as error:
        sys.exit(f"Baywind cannot start: {error}")


if __name__ == "__main__":
    main()
