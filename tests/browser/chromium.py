"""Chromium, as it is installed on this machine."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome")
OPTIONS = ["--no-sandbox", "--disable-dev-shm-usage", "--force-color-profile=srgb"]


def program() -> str | None:
    """Return where it is, if it is installed."""
    return next(filter(None, map(shutil.which, NAMES)), None)


@contextmanager
def chromium(path: str) -> Iterator[Browser]:
    """Start it without a window."""
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=OPTIONS, headless=True)
        yield browser
        browser.close()
