"""The kinds of the catalogue as addresses, of the interface and of pages: one for each kind of file, by its plural."""

from __future__ import annotations

from dataclasses import dataclass

from catalog.formats import FILES, PARTS
from catalog.shapes import Format

_PATHS = {"supplies": "power-supplies", "ssds": "solid-state-drives"}  # clearer beside each other than in a folder


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind: the key of its file, its path in addresses, and the word that names of routes begin with."""

    file: str
    path: str

    @property
    def word(self) -> str:
        """The singular of the path.

        >>> [Kind("", path).word for path in ("fans", "power-supplies", "graphics")]
        ['fan', 'power-supply', 'graphics']
        """
        if self.path.endswith("ies"):
            return self.path.removesuffix("ies") + "y"
        return self.path if self.path.endswith("ics") else self.path.removesuffix("s")

    @property
    def layout(self) -> Format:
        return FILES[self.file]

    @property
    def name(self) -> str:
        """How shapes of this kind are called in the description of the interface."""
        return self.layout.model.__name__

    @property
    def plural(self) -> str:
        return self.path.replace("-", " ").replace("ups", "UPS")


KINDS = tuple(Kind(file, _PATHS.get(file, file.replace("_", "-"))) for file in (*PARTS, "makers", "sources"))
KIND_OF = {kind.file: kind for kind in KINDS}
