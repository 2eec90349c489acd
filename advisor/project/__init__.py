"""Wiring: settings, root URLs, server entry and task queue. Nothing imports it."""

from advisor.project.celery import app as celery_app

__all__ = ["celery_app"]
