"""The figures of an enclosure's air in one scenario: what the picture and the table beside it both show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from advisor.engine.inputs import OUTSIDE
from frontend.pictures.housing import Housing, OpeningPlace, ZonePlace
from frontend.templatetags.words import place

Record = Mapping[str, Any]
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_NAMES = {"supply": "power supply", "blower": "graphics board"}
_DENSITY_KG_M3 = 1.2  # of air that does not move: nothing says how warm it would be


@dataclass(frozen=True, slots=True)
class Stream:
    """Air through one opening, or through one half of an opening whose halves blow against each other.

    Air goes from ``source`` to ``target``, whichever way the opening is meant to blow. ``flow_m3s`` is not negative;
    None where nothing was computed. ``temperature_c`` is that of the air that passes. ``wrong_way`` says that it blows
    against what is meant. ``fans`` of a kind called ``fan_name`` turn at ``speed_rpm``.
    """

    number: int
    code: str
    name: str
    half: str
    kind: str
    source: str
    target: str
    flow_m3s: float | None = None
    flow_u_m3s: float = 0.0
    temperature_c: float | None = None
    wrong_way: bool = False
    filtered: bool = False
    fans: int = 0
    fan_name: str = ""
    speed_rpm: float | None = None

    @property
    def said(self) -> str:
        """Its name with its half."""
        return f"{self.name}, {self.half} half" if self.half else self.name


@dataclass(frozen=True, slots=True)
class ZoneFigure:
    """A zone's air; figures are None where nothing was computed."""

    letter: str
    code: str
    name: str
    temperature_c: float | None = None
    pressure_pa: float | None = None
    fresh_share: float | None = None


@dataclass(frozen=True, slots=True)
class PartFigure:
    """A part that gets warm, or a group of bays of which ``filled`` hold a drive; ``opening`` is their cage."""

    role: str
    zone: str
    place: str = ""
    temperature_c: Mapping[str, float] | None = None
    limit_c: float | None = None
    filled: int = 0
    bays: int = 0
    opening: str = ""


@dataclass(frozen=True, slots=True)
class AirFigures:
    """Everything a picture of the air says; ``intake_c`` is the room's air at the machine, None without a build."""

    streams: tuple[Stream, ...]
    zones: tuple[ZoneFigure, ...]
    parts: tuple[PartFigure, ...]
    intake_c: float | None = None


def of_housing(housing: Housing) -> AirFigures:
    """Return an enclosure's openings and bays, the air going as it is meant to."""
    streams = (_meant(one) for one in _in_order(housing))
    zones = tuple(ZoneFigure(letter, zone.code, place(zone.code)) for letter, zone in _lettered(housing))
    bays = (PartFigure("drives", one.zone, one.code, bays=one.count, opening=one.opening) for one in housing.bays)
    return AirFigures(_numbered(streams), zones, tuple(bays))


def of_build(build: Record, scenario: str, housing: Housing) -> AirFigures:
    """Return the air of a build's record (``advisor.reports.build_entry``) in one scenario."""
    air = build["airflow"][scenario]
    zones = {zone["code"]: zone for zone in air["zones"]}
    warmth = {code: zone["temperature_c"] for code, zone in zones.items()} | {OUTSIDE: air["intake_c"]}
    found: dict[str, list[Record]] = {}
    for one in air["openings"]:
        found.setdefault(one["code"], []).append(one)
    streams = (
        _stream(opening, one, warmth, _fans(build, scenario, opening))
        for opening in _in_order(housing)
        for one in _joined(found.get(opening.code, ()))
    )
    return AirFigures(
        _numbered(streams),
        tuple(_zone(letter, zone, zones[zone.code]) for letter, zone in _lettered(housing)),
        tuple(_parts(build, scenario, housing)),
        air["intake_c"],
    )


def _in_order(housing: Housing) -> list[OpeningPlace]:
    """Openings as the enclosure lists them, the seams last."""
    return sorted(housing.openings, key=lambda one: one.kind == "leak")


def _lettered(housing: Housing) -> Iterator[tuple[str, ZonePlace]]:
    for n, zone in enumerate(housing.zones):
        again = n // len(_LETTERS)
        yield _LETTERS[n % len(_LETTERS)] + (str(again + 1) if again else ""), zone


def _numbered(streams: Iterable[Stream]) -> tuple[Stream, ...]:
    return tuple(replace(one, number=n) for n, one in enumerate(streams, 1))


def _zone(letter: str, zone: ZonePlace, air: Record) -> ZoneFigure:
    figures = air["temperature_c"], air["pressure_pa"], air["fresh_share"]
    return ZoneFigure(letter, zone.code, place(zone.code), *figures)


def _meant(opening: OpeningPlace) -> Stream:
    name = _NAMES.get(opening.kind) or place(opening.code)
    ends = opening.from_zone, opening.to_zone
    return Stream(0, opening.code, name, "", opening.kind, *ends, filtered=opening.filtered, fans=opening.fans)


def _fans(build: Record, scenario: str, opening: OpeningPlace) -> dict[str, Any]:
    for line in build["parts"]:
        if line["place"] == opening.code and line["role"] in ("intake_fan", "exhaust_fan"):
            speeds = build["settings"][scenario][line["role"].removesuffix("_fan")]["fans"]
            return {"fans": line["quantity"], "fan_name": line["name"], "speed_rpm": speeds.get(line["part"])}
    return {"fans": 0}


def _joined(halves: Sequence[Record]) -> Iterator[Record]:
    """Take the halves of an opening together where both blow the same way."""
    if len(halves) < 2 or len({one["flow_m3s"] < 0 for one in halves}) > 1:
        yield from halves
        return
    # Both halves depend on the same pressures, so their uncertainties add up.
    summed = ("flow_m3s", "mass_flow_kgs", "standard_uncertainty_kgs")
    both = {name: sum(one[name] for one in halves) for name in summed}
    yield dict(halves[0]) | both | {"half": "", "reversed": any(one["reversed"] for one in halves)}


def _stream(opening: OpeningPlace, one: Record, warmth: Mapping[str, float], fans: Mapping[str, Any]) -> Stream:
    flow, mass = one["flow_m3s"], one["mass_flow_kgs"]
    source, target = (one["from"], one["to"]) if flow >= 0 else (one["to"], one["from"])
    return replace(
        _meant(opening),
        half=one["half"],
        source=source,
        target=target,
        flow_m3s=abs(flow),
        flow_u_m3s=one["standard_uncertainty_kgs"] * (flow / mass if mass else 1 / _DENSITY_KG_M3),
        temperature_c=warmth[source],
        wrong_way=one["reversed"],
        **fans,
    )


def _parts(build: Record, scenario: str, housing: Housing) -> Iterator[PartFigure]:
    temperatures = build["predictions"][scenario]["temperatures"]
    filled = Counter(one["group"] for one in build["bays"])
    for one in temperatures:
        if one["role"] != "drive":
            zone = housing.zone_of(one["role"])
            yield PartFigure(one["role"], zone, one["place"], one["temperature_c"], one["limit_c"])
    drives = {one["place"]: one for one in temperatures if one["role"] == "drive"}
    for bay in housing.bays:
        known = drives.get(bay.code, {})
        warm = known.get("temperature_c"), known.get("limit_c")
        yield PartFigure("drives", bay.zone, bay.code, *warm, filled[bay.code], bay.count, bay.opening)
