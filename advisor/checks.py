"""What ``manage.py check`` says of the settings, and with ``--deploy`` of what the service needs around it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from celery import current_app
from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.checks import CheckMessage, Error, Tags, Warning, register
from django.db import DatabaseError
from kombu.exceptions import OperationalError

from catalog.models import Enclosure

LEAST_KEY, LEAST_CHARACTERS = 50, 5
_BROKER_PATIENCE_S = 2.0


@register("advisor")
def time_limits_in_order(app_configs: Any, **options: Any) -> Sequence[CheckMessage]:
    """A task must have ended before it is handed out again."""
    limits = {
        "CELERY_TASK_SOFT_TIME_LIMIT": settings.CELERY_TASK_SOFT_TIME_LIMIT,
        "CELERY_TASK_TIME_LIMIT": settings.CELERY_TASK_TIME_LIMIT,
        "visibility_timeout": settings.CELERY_BROKER_TRANSPORT_OPTIONS["visibility_timeout"],
    }
    values = list(limits.values())
    if all(lower < higher for lower, higher in zip(values, values[1:], strict=False)):
        return []
    found = ", ".join(f"{name} {value} s" for name, value in limits.items())
    hint = "Let them rise in this order; the last is in CELERY_BROKER_TRANSPORT_OPTIONS of advisor/project/settings.py."
    return [Error(f"Time limits of tasks are out of order: {found}.", hint=hint, id="advisor.E001")]


@register(Tags.security)
def secret_key_is_random(app_configs: Any, **options: Any) -> Sequence[CheckMessage]:
    """Sessions are as safe as the key that signs them."""
    key = settings.SECRET_KEY
    if len(key) >= LEAST_KEY and len(set(key)) >= LEAST_CHARACTERS:
        return []
    return [
        Error(
            f"SECRET_KEY has {len(key)} characters, {len(set(key))} different ones; accepted: at least {LEAST_KEY}, "
            f"and {LEAST_CHARACTERS} different ones.",
            hint="Leave SECRET_KEY empty on one machine; for several, make one: openssl rand -base64 48",
            id="advisor.E002",
        )
    ]


@register("advisor", deploy=True)
def broker_answers(app_configs: Any, **options: Any) -> Sequence[CheckMessage]:
    """Studies wait while it is away, nothing else does: a warning."""
    with current_app.connection_for_write(connect_timeout=_BROKER_PATIENCE_S) as broker:
        where = broker.as_uri()
        try:
            broker.ensure_connection(max_retries=1, timeout=_BROKER_PATIENCE_S)
        except (OperationalError, *broker.connection_errors) as error:
            hint = "Start it (make run does on one machine), or correct REDIS_URL. Studies are only queued until then."
            return [Warning(f"The broker at {where} does not answer: {error}.", hint=hint, id="advisor.W001")]
    return []


@register("advisor", deploy=True)
def catalogue_is_loaded(app_configs: Any, **options: Any) -> Sequence[CheckMessage]:
    """Without an enclosure there is nothing to advise."""
    try:
        if Enclosure.objects.exists():
            return []
    except DatabaseError as error:
        hint = "Run: .venv/bin/python manage.py migrate"
        return [Warning(f"The database has no catalogue yet: {error}.", hint=hint, id="advisor.W002")]
    hint = "Run: .venv/bin/python manage.py load_catalog FOLDER, or let people enter enclosures of their own."
    return [Warning("The catalogue has no enclosure.", hint=hint, id="advisor.W003")]


@register("advisor", deploy=True)
def static_files_are_collected(app_configs: Any, **options: Any) -> Sequence[CheckMessage]:
    """Pages name their files by the list that collecting them writes."""
    listed = getattr(staticfiles_storage, "manifest_name", "")
    if not listed or (Path(settings.STATIC_ROOT) / listed).exists():
        return []
    hint = "Run: .venv/bin/python manage.py collectstatic --noinput (make run does)."
    return [Warning(f"{settings.STATIC_ROOT} has no static files.", hint=hint, id="advisor.W004")]
