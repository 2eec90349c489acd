"""One service, one browser and one study that is done for all tests of this folder; each test has pages of its own."""

from __future__ import annotations

import itertools
import os
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser import chromium
from tests.browser.site import Site, few_enclosures, site
from tests.browser.watching import Watch
from tests.service.machine import prepare

ADDRESSES = itertools.count(1)
PATIENCE_MS = 15_000
WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 360, "height": 740}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/browser/" in item.path.as_posix():
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="package")
def program() -> str:
    found = chromium.program()
    if found:
        return found
    words = f"Chromium is not installed: none of {', '.join(chromium.NAMES)} is on the PATH"
    if os.environ.get("CI_NO_BROWSER"):
        pytest.skip(f"{words}, and CI_NO_BROWSER is set")
    pytest.fail(f"{words}; install it, or set CI_NO_BROWSER=1 to leave these tests out")


@pytest.fixture(scope="package")
def service_address(program: str, tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> Iterator[Site]:
    base = tmp_path_factory.getbasetemp()
    shared = (base if worker_id == "master" else base.parent) / "browser"
    shared.mkdir(exist_ok=True)
    with site(prepare(shared, few_enclosures(tmp_path_factory.mktemp("few")))) as running:
        yield running


@pytest.fixture(scope="package")
def browser(service_address: Site, program: str) -> Iterator[Browser]:
    with chromium.chromium(program) as running:
        yield running


@pytest.fixture
def watch(service_address: Site) -> Iterator[Watch]:
    """What the pages of this test say beside what they show: nothing, or the test fails."""
    seen = Watch(service_address.address)
    yield seen
    assert seen.faults == []


@pytest.fixture
def context(browser: Browser, service_address: Site, watch: Watch) -> Iterator[Callable[..., BrowserContext]]:
    """Make contexts, each with cookies of its own and, unless it is told, a guest's address of its own."""
    made: list[BrowserContext] = []

    def make(viewport: dict[str, int] = WIDE, **more: object) -> BrowserContext:
        made.append(new_context(browser, service_address.address, viewport, **more))
        watch.over(made[-1])
        return made[-1]

    yield make
    for one in made:
        one.close()


@pytest.fixture
def page(context: Callable[..., BrowserContext]) -> Page:
    return context().new_page()


@pytest.fixture(scope="package")
def answer(browser: Browser, service_address: Site) -> str:
    """The path of a study that is done: ten drives in a small office, which some boxes cannot carry."""
    made = new_context(browser, service_address.address, WIDE)
    opened = made.new_page()
    opened.goto("/")
    opened.get_by_role("button", name="Get the answer for: Ten-drive archive box").click()
    opened.locator("#ruled-out").wait_for(timeout=60_000)
    path = opened.url.removeprefix(service_address.address)
    made.close()
    return path


def new_context(browser: Browser, address: str, viewport: dict[str, int], **more: object) -> BrowserContext:
    number = next(ADDRESSES)
    come_from = {"X-Forwarded-For": f"10.0.{number // 250}.{1 + number % 250}"}
    still = {"reduced_motion": "reduce", "base_url": address, "extra_http_headers": come_from}
    context = browser.new_context(viewport=viewport, **(still | more))
    context.set_default_timeout(PATIENCE_MS)
    return context
