"""How tests read the admin pages."""

import html
import re

HANDLER = re.compile(r"<[^>]*\s(on[a-z]+|style)\s*=", re.IGNORECASE)
INLINE = re.compile(r"<script(?![^>]*\ssrc=)(?![^>]*application/json)[^>]*>|<style", re.IGNORECASE)


def form_of(response):
    """Return everything that the page's form would send back."""
    data = {}
    forms = [response.context["adminform"].form]
    for inline in response.context["inline_admin_formsets"]:
        forms += [inline.formset.management_form, *inline.formset.forms]
    for form in forms:
        for bound in form:
            value = bound.value()
            if value is not None and value is not False:
                data[bound.html_name] = value
    return data


def errors_of(response):
    """Return what a page says against what was sent, in one text."""
    said = [response.context["adminform"].form.errors.as_text()]
    for inline in response.context["inline_admin_formsets"]:
        said += [form.errors.as_text() for form in inline.formset.forms]
    return html.unescape("\n".join(said))


def breaks_policy(page):
    """Return what a browser would refuse to run or to apply under ``default-src 'self'``."""
    return [found.group(0)[:80] for pattern in (HANDLER, INLINE) for found in pattern.finditer(page)]
