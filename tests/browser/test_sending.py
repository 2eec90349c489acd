"""What people do to forms: the back button, two tabs, two clicks, an old page, hostile texts."""

import pytest

ROOM = "#id_ambient_c"
OVERRIDE = "\u202e"
MARKUP = f"{OVERRIDE}<img src=x onerror=alert(1)><script>alert(2)</script>\"'>&lt;{{{{ 7|add:7 }}}}"


def send(page, ambient="23.4", **fields):
    page.goto("/brief/?start=small_two_drive_machine")
    page.locator(ROOM).fill(ambient)
    for name, text in fields.items():
        page.locator(f"#id_{name}").fill(text)
    page.get_by_role("button", name="Find builds").click()
    page.wait_for_url("**/studies/**")
    return page.url.rstrip("/")


def test_back_after_sending_finds_what_was_typed_and_sending_again_finds_the_same_answer(page):
    send(page, "23.1")
    page.locator("#ruled-out").wait_for(timeout=60_000)
    answered = page.locator(".lead").inner_text()
    posts = []
    page.on("request", lambda request: posts.append(request.url) if request.method == "POST" else None)
    page.go_back()
    assert page.locator(ROOM).input_value() == "23.1"
    assert posts == []
    page.get_by_role("button", name="Find builds").click()
    page.wait_for_url("**/studies/**")
    assert page.locator(".lead").inner_text() == answered


def test_two_tabs_are_two_studies(context):
    person = context()
    one, two = person.new_page(), person.new_page()
    assert send(one, "23.2") != send(two, "23.3")


def test_two_clicks_are_one_study(page, watch, service_address):
    watch.left.add("/brief/")  # the second click leaves the first one's answer behind
    with service_address.held():
        page.goto("/brief/?start=small_two_drive_machine")
        page.locator(ROOM).fill("23.5")
        posts = []
        page.on("request", lambda request: posts.append(request) if request.method == "POST" else None)
        page.get_by_role("button", name="Find builds").dblclick(no_wait_after=True)
        page.wait_for_url("**/studies/**")
        first = page.url
        again = page.request.post(
            "/brief/",
            data=posts[0].post_data,
            headers={"Content-Type": "application/x-www-form-urlencoded", "Referer": first},
        )
        assert again.url.rstrip("/") == first.rstrip("/")


def test_a_form_grown_old_keeps_what_was_typed(page, watch):
    watch.refusals.add(403)
    page.goto("/brief/?start=small_two_drive_machine")
    page.locator(ROOM).fill("23.6")
    page.context.clear_cookies()
    page.get_by_role("button", name="Find builds").click()
    page.get_by_text("This page had grown old").wait_for()
    assert page.locator(ROOM).input_value() == "23.6"
    page.get_by_role("button", name="Find builds").click()
    page.wait_for_url("**/studies/**")


def test_hostile_text_in_every_field_is_shown_as_text(page):
    page.goto("/brief/")
    fields = page.locator("form.brief input[type=text]:not([type=hidden])")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    names = [one.get_attribute("name") for one in fields.all()]
    assert len(names) > 30
    for one in fields.all():
        one.fill(MARKUP)
    page.get_by_role("button", name="Find builds").click()
    page.locator("#error-summary").wait_for()
    assert page.locator("main img, main script").count() == 0
    assert page.locator("#id_processor_watts").input_value() == MARKUP
    # The override stays within the element it stands in: nothing else is turned round.
    assert page.locator("#error-summary h2").inner_text().endswith("to put right")


def test_a_hostile_title_is_a_text_on_all_pages_of_its_study(page):
    page.goto("/brief/?start=small_two_drive_machine")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    title = "<b>bold</b><script>alert(1)</script>"
    page.locator("#id_title").fill(title)
    page.get_by_role("button", name="Find builds").click()
    page.locator("#ruled-out").wait_for(timeout=60_000)
    assert page.locator("h1").inner_text() == title
    assert page.locator("main script, h1 b").count() == 0


@pytest.mark.parametrize("name", ["title", "processor_watts"])
def test_a_megabyte_is_refused_clearly(page, watch, name):
    watch.refusals.add(413)
    page.goto("/brief/?start=small_two_drive_machine")
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
    page.locator(f"#id_{name}").evaluate("(at, text) => { at.value = text }", "7" * 1_000_000)
    page.get_by_role("button", name="Find builds").click()
    page.get_by_role("heading", name="That is more than this form takes").wait_for()
