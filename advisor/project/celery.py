"""The task queue: settings whose names begin with ``CELERY_`` configure it."""

import os
from typing import Any

from celery import Celery
from celery.signals import setup_logging, worker_init, worker_process_init

from advisor.project import processes

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "advisor.project.settings")

app = Celery("baywind")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()

_group: list[int] = []


@worker_init.connect
def _remember_the_group(**_: Any) -> None:
    _group[:] = [os.getpid()]


@worker_process_init.connect
def _end_with_the_group(**_: Any) -> None:
    """End each process with its group, even if the group's first process is killed."""
    processes.tie_to(_group[0])


@setup_logging.connect
def _keep_the_projects_logging(**_: Any) -> None:
    """Celery leaves logging alone where somebody answers this signal; settings.LOGGING holds."""
