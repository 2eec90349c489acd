"""Every page, looked at: nothing for axe to find, no message, no wider than a phone, and little to load."""

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import NARROW, WIDE
from tests.browser.watching import goes_sideways

MOST_BYTES = 400_000
OPEN_ALL = "document.querySelectorAll('details').forEach(one => { one.open = true })"
PLAIN = {
    "home": "/",
    "brief": "/brief/",
    "brief begun": "/brief/?start=ten_drive_archive_box",
    "method": "/method/",
    "catalogue": "/catalogue/",
    "fans": "/catalogue/fans/",
    "enclosures": "/catalogue/enclosures/",
    "drives": "/catalogue/drives/",
    "sign in": "/sign-in/",
    "sign up": "/sign-up/",
}
OF_MEMBERS = {"account": "/account/", "own parts": "/own/", "own enclosure": "/own/enclosure/", "studies": "/studies/"}


def look(page, watch, path):
    """Look at one page in light on a desk and in dark on a phone."""
    before = watch.bytes_so_far()
    page.goto(path)
    page.wait_for_load_state("networkidle") if "/progress" in path else page.wait_for_load_state()
    assert 0 < watch.bytes_so_far() - before < MOST_BYTES
    examine(page)


def examine(page):
    for scheme, viewport in (("light", WIDE), ("dark", NARROW)):
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size(viewport)
        assert goes_sideways(page) == 0, scheme
        page.evaluate(OPEN_ALL)
        found = Axe().run(page)
        assert found.violations_count == 0, f"{scheme} at {viewport['width']}: {found.generate_report()}"
        assert goes_sideways(page) == 0, f"{scheme}, with all folds open"


@pytest.mark.parametrize("path", PLAIN.values(), ids=PLAIN)
def test_page_of_anyone(page, watch, path):
    look(page, watch, path)


def test_pages_of_a_member(page, watch):
    page.goto("/sign-up/")
    page.locator("main [name=username]").fill(f"mara-{id(page)}")
    for entry in page.locator("main [type=password]").all():
        entry.fill("warm-lemon-kettle")
    page.get_by_role("button", name="Open the account").click()
    page.wait_for_url(lambda url: "/sign-up/" not in url)
    for path in OF_MEMBERS.values():
        look(page, watch, path)


def test_a_shortlist_and_a_build_in_its_scenarios(page, watch, answer):
    look(page, watch, answer)
    address = page.locator(".entry-card h3 a").first.get_attribute("href")
    look(page, watch, address)
    look(page, watch, f"{address}?scenario=hot_day")


@pytest.mark.parametrize("kind", ["fans", "enclosures"])
def test_page_of_a_part(page, watch, kind):
    page.goto(f"/catalogue/{kind}/")
    look(page, watch, page.locator("tbody th a").first.get_attribute("href"))


def test_a_brief_with_errors_leads_to_its_summary(page, watch):
    page.goto("/brief/")
    page.locator("#id_processor_watts").fill("warm")
    page.get_by_role("button", name="Find builds").click()
    page.locator("#error-summary").wait_for()
    assert page.evaluate("document.activeElement.id") == "error-summary"
    assert page.locator("#id_processor_watts").input_value() == "warm"
    examine(page)


def test_a_study_that_runs_and_one_that_was_cancelled(page, watch, service_address):
    with service_address.held():
        page.goto("/brief/?start=small_two_drive_machine")
        page.locator("#id_ambient_c").fill("24.7")
        page.get_by_role("button", name="Find builds").click()
        page.wait_for_url("**/studies/**")
        assert page.locator("progress").is_visible()
        examine(page)
        page.get_by_role("button", name="Cancel this study").click()
        page.locator("progress").wait_for(state="detached")
        examine(page)


def test_a_page_that_is_not_there(page, watch):
    watch.refusals.add(404)
    look(page, watch, "/nowhere/")
