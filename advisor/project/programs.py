"""The programs that make up the service, as command lines: the supervisor and the tests start these same ones."""

import sys

# What each prints once it works.
READY = {"workers": " ready.", "web": "Answering at"}


def workers(processes: int) -> list[str]:
    """Return the command of a group of processes that score studies.

    Without gossip and mingle: groups need to know nothing of each other, and would wait for each other at the start.
    """
    options = ["--pool", "prefork", "--concurrency", str(processes), "--loglevel", "INFO"]
    app = [*_python("celery"), "--quiet", "-A", "advisor.project"]
    return [*app, "worker", *options, "--without-gossip", "--without-mingle"]


def sweep() -> list[str]:
    """Return the command of the process that hands out again what a dead worker or broker dropped."""
    return [sys.executable, "manage.py", "sweep", "--forever"]


def web() -> list[str]:
    """Return the command of the web server; its settings are in ``gunicorn_settings``."""
    return [*_python("gunicorn"), "--config", "python:advisor.project.gunicorn_settings", "advisor.project.wsgi"]


def _python(module: str) -> list[str]:
    return [sys.executable, "-m", module]
