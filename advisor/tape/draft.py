"""What every step of a derivation works with, and the openings that the steps make."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from advisor.tape.entry import TapeEntry
from advisor.tape.geometry import Point
from advisor.tape.ledger import Inputs, Ledger, rounded
from advisor.tape.materials import FILTERS
from advisor.tape.panels import Way
from advisor.tape.rooms import Rooms

OUTSIDE, INNER = "outside", "inner"

# One standard uncertainty, as shares: areas off a tape or a photograph, those that rest on a default, leaks, filters.
AREA_U, ASSUMED_AREA_U, LEAK_U, FILTER_U = 0.2, 0.3, 0.4, 0.4
LOSS_U = 0.3


@dataclass(frozen=True)
class Draft:
    """An entry, its zones, and what has been derived so far; ``area_u`` holds the openings that are less sure."""

    entry: TapeEntry
    rooms: Rooms
    ledger: Ledger
    openings: list[dict[str, Any]] = field(default_factory=list)
    area_u: dict[str, float] = field(default_factory=dict)

    def given(self, *paths: str) -> bool:
        """Tell whether a person entered all of some fields."""
        return all(path in self.entry.given for path in paths)

    def opening(
        self, code: str, kind: str, ends: tuple[str, str], at: Point, height_mm: float, face: str, way: Way,
        relation: str, *, area_u: float = AREA_U, inputs: Inputs | None = None, **more: Any,
    ) -> dict[str, Any]:  # fmt: skip
        """Note an opening's area and loss and add it; ``more`` holds its other keys."""
        key, known = f"openings.{code}", inputs or {}
        area = self.ledger.add(f"{key}.area_cm2", way.area_cm2, "cm2", relation, known, share=area_u)
        loss = self.ledger.add(f"{key}.loss_coefficient", way.loss, "", relation, known, share=LOSS_U)
        block = {
            "code": code, "kind": kind, "from": ends[0], "to": ends[1], "position_mm": [rounded(one) for one in at],
            "height_mm": rounded(height_mm), "face": face, "area_cm2": area, "loss_coefficient": loss, **more,
        }  # fmt: skip
        self.openings.append(block)
        if area_u != AREA_U:
            self.area_u[code] = area_u
        return block

    def screen(self, code: str, class_: str, area_cm2: float, inputs: Inputs) -> dict[str, Any]:
        """Return the keys of a filter in an opening, none where there is none, and note its figures."""
        if class_ == "none" or area_cm2 <= 0:
            return {}
        law, key = FILTERS[class_], f"openings.{code}.filter"
        face = self.ledger.add(f"{key}.area_cm2", area_cm2, "cm2", "filter_area", inputs, share=AREA_U)
        linear, quadratic = (
            self.ledger.add(f"{key}.{name}", value, unit, "filter", {"class": class_}, share=FILTER_U)
            for name, value, unit in (
                ("linear_pa_s_m", law.linear, "Pa s/m"),
                ("quadratic_pa_s2_m2", law.quadratic, "Pa s2/m2"),
            )
        )
        block = {"class": class_, "area_cm2": face, "linear_pa_s_m": linear, "quadratic_pa_s2_m2": quadratic}
        return {"filter": block}

    def free_code(self, wanted: str) -> str:
        """Return a code that no opening has yet."""
        taken = {one["code"] for one in self.openings}
        number, code = 2, wanted
        while code in taken:
            code, number = f"{wanted}_{number}", number + 1
        return code
