"""Answers as pages: what they show, and what each person may send from there."""

import json
import re

import pytest
from django.contrib.staticfiles import finders


def page(client, path):
    response = client.get(path, HTTP_ACCEPT="text/html")
    return response, response.content.decode()


def forms(text):
    return re.findall(r'<form data-method="(\w+)" action="([^"]+)">', text)


def test_answer_stands_on_the_page_with_links(guest, db):
    response, text = page(guest, "/api/v1/")
    assert response.status_code == 200
    assert '<a href="http://testserver/api/v1/studies/"' in text
    assert "GET /api/v1/ → 200 OK" in text


def test_guest_is_offered_a_form_for_a_study_with_an_example(guest, db):
    _, text = page(guest, "/api/v1/studies/")
    assert "A guest" in text
    assert forms(text) == [("POST", "/api/v1/studies/")]
    example = re.search(r"<textarea[^>]*>(.*?)</textarea>", text, flags=re.DOTALL)[1]
    assert "noise_target_dba" in json.loads(example.replace("&quot;", '"'))


def test_forms_are_those_that_the_person_may_send(member, guest, db):
    assert forms(page(guest, "/api/v1/tokens/")[1]) == []
    text = page(member, "/api/v1/tokens/")[1]
    assert "Signed in as mara" in text
    assert forms(text) == [("POST", "/api/v1/tokens/")]


def test_method_without_a_body_has_a_button_alone(member):
    prefix = member.post("/api/v1/tokens/", {"name": "laptop"}, format="json").json()["prefix"]
    text = page(member, f"/api/v1/tokens/{prefix}/")[1]
    assert forms(text) == [("DELETE", f"/api/v1/tokens/{prefix}/")]
    assert "<textarea" not in text


def test_error_is_a_page_in_the_same_words(guest, db):
    response, text = page(guest, "/api/v1/tokens/")
    assert response.status_code == 401
    assert "Sign in first" in text


def test_what_somebody_typed_is_no_markup(member):
    member.post("/api/v1/tokens/", {"name": "<script>x</script>"}, format="json")
    text = page(member, "/api/v1/tokens/")[1]
    assert "&lt;script&gt;x" in text and "<script>x" not in text


@pytest.mark.parametrize("name", ["api/page.css", "api/page.js"])
def test_files_of_the_page_exist(name):
    assert finders.find(name)
