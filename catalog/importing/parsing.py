"""From one block to one record, with every value that cannot be taken."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from catalog.consistency import NOTHING
from catalog.importing.notes import NOTE_KEYS, parse_notes
from catalog.importing.refusals import Place, Refusal, nearest, show
from catalog.models.columns import Checked
from catalog.records import Record
from catalog.shapes import Children, Derived, Entry, Format, Group, Link, Scalar, Vector
from catalog.validators import check_code

MOST_CHILDREN = 200  # zones, openings and the like of one enclosure
# Bounds on what is said about one block, so that a hopeless one costs neither its reader nor us much.
MOST_REFUSALS = 100
MOST_UNKNOWN = 10


class BlockParser:
    """Parses one block of a format; ``prefix`` says where inside the outer block it stands."""

    def __init__(self, layout: Format, place: Place, prefix: str = "") -> None:
        self.layout, self.place, self.prefix = layout, place, prefix
        self.columns: dict[str, Any] = {}
        self.children: dict[str, list[Record]] = {}
        self.refusals: list[Refusal] = []

    def refuse(self, key: str, value: object, reason: str, accepted: str = "") -> None:
        field = self.prefix + key if key else self.prefix.rstrip(".")
        self.refusals.append(Refusal(self.place, field, value, reason, accepted))

    def parse(self, block: Any) -> Record:
        """Read a whole block; the record is only of use when nothing was refused."""
        if not isinstance(block, dict):
            self.refuse("", block, "is not a block of keys and values")
            return Record({})
        self._refuse_unknown("", block, [*self.layout.by_key, *(NOTE_KEYS if self.layout.is_part else ())])
        for entry in self.layout.entries:
            _PARSERS[type(entry)](self, entry, block.get(entry.key, NOTHING))
        self._check_rules()
        record = Record(self.columns, self.children)
        if self.layout.is_part:
            record = Record(self.columns, self.children, parse_notes(self, block, record))
        return record

    def scalar(self, key: str, column: str, value: object, default: object = NOTHING) -> None:
        """Read one value into one column; a key left out or null takes its default, where it has one."""
        field = self.layout.columns[column]
        assert isinstance(field, Checked)
        if value is NOTHING or value is None:
            default = self.layout.defaults.get(column, NOTHING) if default is NOTHING else default
            if default is NOTHING:
                self.refuse(key, NOTHING, "is missing" if value is NOTHING else "is empty", field.accepted)
            else:
                self.columns[column] = default
            return
        reason = field.check_value(value)
        if reason:
            self.refuse(key, value, reason, field.accepted)
        else:
            self.columns[column] = field.canonical(value)

    def _scalar(self, entry: Scalar, value: object) -> None:
        self.scalar(entry.key, entry.column, value)

    def _vector(self, entry: Vector, value: object) -> None:
        count = len(entry.columns)
        if not isinstance(value, list) or len(value) != count:
            reason = "is missing" if value is NOTHING else "is not such a list"
            self.refuse(entry.key, value, reason, f"a list of {count} numbers")
            return
        for number, (column, item) in enumerate(zip(entry.columns, value, strict=True), 1):
            self.scalar(f"{entry.key}[{number}]", column, item)

    def _group(self, entry: Group, value: object) -> None:
        if entry.optional and (value is NOTHING or value is None):
            self.columns.update({column: self.layout.defaults[column] for column in entry.columns.values()})
        elif not isinstance(value, dict):
            reason = "is missing" if value is NOTHING else "is not a mapping"
            self.refuse(entry.key, value, reason, f"a mapping with {', '.join(entry.columns)}")
        else:
            self._refuse_unknown(f"{entry.key}.", value, entry.columns)
            for key, column in entry.columns.items():
                default = entry.defaults.get(key, NOTHING)
                self.scalar(f"{entry.key}.{key}", column, value.get(key, NOTHING), default)

    def _link(self, entry: Link, value: object) -> None:
        field = self.layout.columns[entry.column]
        if value is NOTHING or value is None or value == "":
            if field.null and not entry.none_word:
                self.columns[entry.column] = None
            else:
                self.refuse(entry.key, value, "is missing", f"the {'name' if entry.key == 'maker' else 'code'} of one")
        elif not isinstance(value, str):
            self.refuse(entry.key, value, "is not text: put it in quotes")
        else:
            self.columns[entry.column] = None if value == entry.none_word else value

    def _derived(self, entry: Derived, value: object) -> None:
        code = "" if value is NOTHING or value is None else value
        reason = "" if code == "" else check_code(code)
        if reason:
            self.refuse(entry.key, value, reason)
        else:
            self.columns[entry.key] = code

    def _children(self, entry: Children, value: object) -> None:
        shape: type = dict if entry.keyed_by else list
        if not isinstance(value, shape):
            wanted = f"a mapping by {entry.keyed_by}" if entry.keyed_by else f"a list of {entry.format.noun} blocks"
            self.refuse(entry.key, value, "is missing" if value is NOTHING else "is of another shape", wanted)
            return
        if len(value) > MOST_CHILDREN:
            self.refuse(entry.key, value, f"has {len(value)} blocks", f"up to {MOST_CHILDREN} blocks")
            return
        self.children[entry.key] = []
        seen: set[str] = set()
        for number, block in enumerate(_listed(value, entry.keyed_by), 1):
            if len(self.refusals) >= MOST_REFUSALS:
                self.refuse(entry.key, NOTHING, f"is not read beyond block {number - 1}", "fewer bad values before")
                del self.children[entry.key]
                return
            name = block.get(entry.name_column) if isinstance(block, dict) else None
            shown = name if isinstance(name, str) and name else str(number)
            parser = BlockParser(entry.format, self.place, f"{self.prefix}{entry.key}.{shown:.64}.")
            self.children[entry.key].append(parser.parse(block))
            self.refusals += parser.refusals
            if shown in seen:
                self.refuse(entry.key, name, "is there twice", f"each {entry.name_column} once")
            seen.add(shown)

    def _refuse_unknown(self, prefix: str, block: dict[str, Any], known: Iterable[str]) -> None:
        known = list(known)
        unknown = [key for key in block if key not in known]
        for key in unknown[:MOST_UNKNOWN]:
            self.refuse(f"{prefix}{key:.60}", NOTHING, "is not a known key", nearest(key, known))
        if len(unknown) > MOST_UNKNOWN:
            count = len(unknown) - MOST_UNKNOWN
            self.refuse(prefix.rstrip("."), NOTHING, f"has {count} more keys that are not known", ", ".join(known))

    def _check_rules(self) -> None:
        for rule in self.layout.rules:
            if all(column in self.columns for column in rule.columns) and not rule.holds(self.columns):
                keys = [self.layout.key_of(column) for column in rule.columns]
                values = ", ".join(show(self.columns[column]) for column in rule.columns)
                self.refuse(", ".join(keys), NOTHING, f"({values}) do not go together", rule.message)
        if not self.refusals and hasattr(self.layout.model, "inconsistencies"):
            for problem in self.layout.model.inconsistencies(self.columns):
                self.refuse(self.layout.key_of(problem.column), problem.value, problem.reason, problem.accepted)


_PARSERS: dict[type[Entry], Callable[[BlockParser, Any, object], None]] = {
    Scalar: BlockParser._scalar,
    Vector: BlockParser._vector,
    Group: BlockParser._group,
    Link: BlockParser._link,
    Derived: BlockParser._derived,
    Children: BlockParser._children,
}


def _listed(value: Any, keyed_by: str) -> list[Any]:
    if not keyed_by:
        return value
    return [{keyed_by: key, **block} if isinstance(block, dict) else block for key, block in value.items()]
