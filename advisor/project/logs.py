"""What the service logs, and what no log may hold: passwords in addresses, keys in headers, addresses of studies."""

from __future__ import annotations

import logging
import re

# A guest's study is open to whoever has its address; its first digits are enough to find it again.
_STUDY = re.compile(r"\b([0-9a-f]{8})-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}\b", re.IGNORECASE)
_PASSWORD = re.compile(r"(://[^\s/:@]*:)[^\s/@]+(?=@)")
_BEARER = re.compile(r"\b(Bearer|Token)(\s+)[\w.~+/-]{8,}=*", re.IGNORECASE)


def masked(text: str) -> str:
    """Return a text without what only its owner may know."""
    text = _PASSWORD.sub(r"\1***", text)
    text = _BEARER.sub(r"\1\2***", text)
    return _STUDY.sub(r"\1-***", text)


class MaskingFormatter(logging.Formatter):
    """Formats as ever, tracebacks too, then masks."""

    def format(self, record: logging.LogRecord) -> str:
        return masked(super().format(record))


LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {
            "()": "advisor.project.logs.MaskingFormatter",
            "format": "%(asctime)s %(levelname)s %(name)s: %(message)s",
            "datefmt": "%H:%M:%S",
        }
    },
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        # Django would add a handler of its own, and mails.
        "django": {"handlers": [], "level": "WARNING"},
        "advisor": {"level": "INFO"},
        "celery": {"level": "INFO"},
        "gunicorn.error": {"level": "INFO", "propagate": True},
        "gunicorn.http.wsgi": {"level": "ERROR"},  # it warns of each HEAD
    },
}
