#!/usr/bin/env python
"""Run one of the project's commands; ``python manage.py help`` lists them."""

import os
import sys

from django.core.management import execute_from_command_line

from advisor.project.env import EnvError


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "advisor.project.settings")
    try:
        execute_from_command_line(sys.argv)
    except EnvError as error:
        sys.exit(f"Baywind cannot start: {error}")


if __name__ == "__main__":
    main()
