"""The picture of the air: an enclosure in section, what blows where, how warm it is and how fast its fans turn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.air import figures as air_figures
from frontend.pictures.air.canvas import canvas
from frontend.pictures.air.drawing import NARROW, WIDE, AirDrawing, Form, Region
from frontend.pictures.air.figures import AirFigures, Stream
from frontend.pictures.air.labels import place_labels
from frontend.pictures.air.marks import marks
from frontend.pictures.air.streams import drawn_streams, place_streams
from frontend.pictures.housing import Housing
from frontend.pictures.scales import warmth
from frontend.pictures.section import View, best_view
from frontend.templatetags.quantities import flow, quantity
from frontend.templatetags.words import scenario as scenario_word

__all__ = ["AirPicture", "of_build", "of_housing"]

SEEN = {"side": "seen from its right side", "front": "seen from the front", "above": "seen from above"}


@dataclass(frozen=True, slots=True)
class AirPicture:
    """A picture of the air with its figures; ``key`` tells it from others on the same page."""

    key: str
    title: str
    description: str
    seen: str
    figures: AirFigures
    wide: AirDrawing
    narrow: AirDrawing

    @property
    def computed(self) -> bool:
        """Whether air was computed, or only an enclosure is shown."""
        return self.figures.intake_c is not None

    @property
    def drawings(self) -> tuple[AirDrawing, AirDrawing]:
        return self.wide, self.narrow


def of_build(build: Mapping[str, Any], scenario: str, housing: Housing) -> AirPicture:
    """Return the picture of a build's air in one scenario.

    Parameters
    ----------
    build : mapping
        From a study's record: an entry of its shortlist or of its nearest misses.
    scenario : str
        One of ``advisor.engine.inputs.SCENARIOS``.
    housing : Housing
        The build's enclosure, as the study knew it and as the brief has it stand.
    """
    found = air_figures.of_build(build, scenario, housing)
    return _picture(f"air-{scenario}", f"The air of {housing.name}: {scenario_word(scenario)}", found, housing)


def of_housing(housing: Housing) -> AirPicture:
    """Return the picture of an enclosure of the catalogue: its zones, openings and bays."""
    return _picture("openings", f"The openings of {housing.name}", air_figures.of_housing(housing), housing)


def _picture(key: str, title: str, found: AirFigures, housing: Housing) -> AirPicture:
    view = best_view(housing)
    wide, narrow = (_drawing(found, housing, view, form) for form in (WIDE, NARROW))
    return AirPicture(key, title, " ".join(_described(found, housing, view)), SEEN[view.code], found, wide, narrow)


def _drawing(found: AirFigures, housing: Housing, view: View, form: Form) -> AirDrawing:
    openings = {one.code: one for one in housing.openings}
    outer = [one for one in drawn_streams(found) if OUTSIDE in (one.source, one.target)]
    edges = {one.number: view.edge_of(openings[one.code].looks) for one in outer}
    wrong = {edges[one.number] for one in outer if one.wrong_way}
    sheet = canvas(housing, view, form, set(edges.values()), wrong)
    streams = place_streams(sheet, found)
    in_walls = tuple(marks(sheet, found))
    labels = tuple(place_labels(sheet, found, streams, [one.box for one in in_walls if one.kind != "gap"]))
    boxes = [sheet.outline.grown(form.bare), *(one.box.grown(8) for one in (*labels, *streams.arrows))]
    top = round(min(box.y for box in boxes), 1)
    height = round(max(box.bottom for box in boxes) - top, 1)
    warm = {zone.code: warmth(zone.temperature_c, found.intake_c) for zone in found.zones}
    regions = tuple(Region(code, box, warm[code]) for code, box in sheet.zones.items())
    return AirDrawing(
        form, top, height, sheet.outline, regions, in_walls, tuple(streams.arrows), tuple(streams.discs), labels
    )


def _described(found: AirFigures, housing: Housing, view: View) -> Iterator[str]:
    yield f"{housing.name}, {SEEN[view.code]}, with {len(housing.zones)} zones."
    if found.intake_c is None:
        return
    comes, leaves = ([one for one in found.streams if getattr(one, end) == OUTSIDE] for end in ("source", "target"))
    yield f"Air comes in at {quantity(found.intake_c, '°C')}, most of it through {_most(comes)}."
    yield f"Most leaves through {_most(leaves)}."
    warmest = max(found.zones, key=lambda zone: zone.temperature_c or 0.0)
    yield f"The warmest zone is {warmest.name} with {quantity(warmest.temperature_c, '°C')}."
    wrong = [one.said for one in found.streams if one.wrong_way]
    if wrong:
        yield f"It blows the wrong way through {', '.join(wrong)}."


def _most(streams: Iterable[Stream]) -> str:
    most = max(streams, key=lambda one: one.flow_m3s or 0.0, default=None)
    return "no opening" if most is None else f"{most.said} ({flow(most.flow_m3s or 0.0)})"
