"""What tests of the catalogue's pages share: copies of parts, people's own parts, and what forms are filled in with."""

from html.parser import HTMLParser

from django.contrib.auth.models import Group

from catalog.kinds import KINDS
from catalog.models import Enclosure, FigureNote, Maker
from tests.catalog.owning import make_own
from tests.frontend.conftest import signed_in

PART_KINDS = [kind for kind in KINDS if kind.layout.is_part]
FAN = {
    "name": "Attic fan",
    "code": "attic",
    "maker": "Own",
    "source": "own-measure",
    "size_mm": "120",
    "thickness_mm": "25",
    "min_rpm": "400",
    "max_rpm": "1 200",
    "control": "temperature",
    "curve.points_m3h_pa": "0 18,5\n40 12\n85 0",
    "curve.speed_rpm": "1200",
    "sound_rpm_dba": "600 14\n1200 29.5",
    "power_w": "1,2",
    "price": "9",
}
TAPE = {"name": "Attic box", "width_mm": "210", "height_mm": "450", "depth_mm": "420", "do": "preview"}


def each_kind():
    return {"argnames": "kind", "argvalues": KINDS, "ids": [kind.path for kind in KINDS]}


def each_part_kind():
    return {"argnames": "kind", "argvalues": PART_KINDS, "ids": [kind.path for kind in PART_KINDS]}


def own(model, user, word="mine"):
    """An own part like the first public one, without what is inside."""
    return make_own(model.objects.public().first(), user, word)


def curator(users):
    user = users.objects.create_user("cora", password="round-paper-lamp")
    user.groups.add(Group.objects.get(name="curator"))
    return signed_in(user)


def copies(model, count):
    """Add copies of the first row, with its notes and zones."""
    first, last = model.objects.first(), model.objects.count()
    below = [*first.notes.all()] if hasattr(first, "notes") else []
    below += [*first.zones.all(), *first.sound_shares.all()] if model is Enclosure else []
    for number in range(count):
        first.pk, first.code = None, f"copy-{last + number:03}"
        if model is Maker:
            first.name = first.code
        first.save(force_insert=True)
        for row in below:
            row.pk = None
            setattr(row, "object_id" if isinstance(row, FigureNote) else "enclosure_id", first.pk)
            row.save()


class Page(HTMLParser):
    """A page: its text, the entries of its forms with what stands in them, and its tags."""

    def __init__(self, response):
        super().__init__()
        self.entries, self.ticked, self.tags, self.ids, self.text = {}, {}, [], [], ""
        self._area = self._select = ""
        self.feed(response.content.decode())

    def handle_starttag(self, tag, attributes):
        given = dict(attributes)
        self.tags.append((tag, given))
        self.ids += [given["id"]] if "id" in given else []
        if tag == "textarea":
            self._area = given["name"]
            self.entries[self._area] = ""
        if tag == "select":
            self._select = given["name"]
            self.entries.setdefault(self._select, "")
        if tag == "option" and "selected" in given:
            self.entries[self._select] = given["value"]
        if tag == "input" and given.get("type") == "checkbox":
            self.ticked.setdefault(given["name"], []).extend([given.get("value", "on")] if "checked" in given else [])
        elif tag == "input":
            self.entries.setdefault(given["name"], given.get("value", ""))

    def handle_endtag(self, tag):
        if tag == "textarea":
            self.entries[self._area] = self.entries[self._area].removeprefix("\n").replace("\r\n", "\n")
            self._area = ""

    def handle_data(self, data):
        self.text += data
        if self._area:
            self.entries[self._area] += data

    def links(self):
        return [given.get("href") for tag, given in self.tags if tag == "a"]

    def sent(self, **changes):
        """What a browser sends for the page's form as it stands, with ``changes`` typed over it."""
        entries = {name: value for name, value in self.entries.items() if name != "csrfmiddlewaretoken"}
        return entries | {name: values for name, values in self.ticked.items() if values} | changes


def is_inline(page):
    """Return what the content security policy would refuse of a page."""
    return [
        (tag, given)
        for tag, given in page.tags
        if "style" in given
        or tag == "style"
        or (tag == "script" and "src" not in given)
        or any(name.startswith("on") for name in given)
        or str(given.get("href", "")).lower().startswith("javascript:")
    ]
