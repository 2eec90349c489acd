"""What tests of pages share: reading a page, the brief that the small catalogue answers, and a browser's form."""

from html.parser import HTMLParser

from django.db import connection
from django.test.utils import CaptureQueriesContext

from frontend.forms.typed import texts_of

BRIEF = {"processor_watts": 65, "board_form": "micro_atx", "noise_target_dba": 60, "drive_count": 0}
KEY = "0123456789abcdef0123456789abcdef"
HOSTILE = "</textarea><script>alert(1)</script>\" onfocus='x' \u202eevil {{ x }} {% now 'Y' %} & <b style=color:red>"


def typed(given=None, key=KEY, **changes):
    """What a browser sends for a brief; ``changes`` are typed over it."""
    sent = {name: value for name, value in texts_of(BRIEF if given is None else given).items() if value is not False}
    return {**sent, "key": key, **changes}


def queries(client, address):
    """How often a page asks the database; once before, for what is kept from then on."""
    client.get(address)
    with CaptureQueriesContext(connection) as asked:
        assert client.get(address).status_code == 200
    return len(asked)


class Form(HTMLParser):
    """Entries of a page with what stands in them, its links, and what it says."""

    def __init__(self, response):
        super().__init__()
        self.entries, self.links, self.ids, self.described, self.text = {}, [], [], {}, ""
        self._select = ""
        self.feed(response.content.decode())

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        if "id" in given:
            self.ids.append(given["id"])
        if tag == "a":
            self.links.append(given.get("href"))
        if tag == "select":
            self._select = given["name"]
        if tag == "option" and "selected" in given:
            self.entries[self._select] = [given["value"]]
        if tag == "input" and (given.get("type") not in ("checkbox", "radio") or "checked" in given):
            nothing = "on" if given.get("type") in ("checkbox", "radio") else ""
            self.entries.setdefault(given["name"], []).append(given.get("value", nothing))
        if tag in ("input", "select") and "aria-describedby" in given:
            self.described[given["name"]] = given["aria-describedby"].split()

    def handle_data(self, data):
        self.text += data

    def __getitem__(self, name):
        return self.entries[name][0]

    def sent(self):
        """What a browser sends for this form as it stands."""
        return {name: values for name, values in self.entries.items() if name != "csrfmiddlewaretoken"}
