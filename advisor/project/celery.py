"""The task queue: settings whose names begin with ``CELERY_`` configure it."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "advisor.project.settings")

app = Celery("baywind")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()
