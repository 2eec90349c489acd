"""What is said about a build: plain frozen records that a report can show as they are.

Scenarios are keys of mappings (``scenarios.SCENARIO_TABLE``). Temperatures are in degrees Celsius, levels in dBA re
20 uPa at the seat, of the machine alone unless a name says otherwise; all else carries its unit in its name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.engine.noise.breakdown import SourceLevel
from advisor.engine.power.spin_up import SpinUpPlan
from advisor.engine.storage.figures import StorageFigures

# Roles of parts that have a limit, and their names in sentences.
ROLE_WORDS = {
    "processor": "the processor",
    "graphics": "the graphics board",
    "drive": "the hottest drive",
    "ssd": "the solid-state drive",
    "card": "the card",
    "controller": "the controller",
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A predicted value and its standard uncertainty, in the same unit."""

    value: float
    standard_uncertainty: float


@dataclass(frozen=True, slots=True)
class PartLine:
    """Parts of one kind in one place; ``price`` is that of one, None where the brief brings the part."""

    role: str
    part: str
    name: str
    quantity: int
    place: str
    price: float | None


@dataclass(frozen=True, slots=True)
class Speeds:
    """A speed group's setting: ``speed_rpm`` of the model that most of its fans are, ``fans`` of every model.

    ``speed_rpm`` is None where the group has no fan. ``manual`` says that a switch sets it, the same in all scenarios.
    """

    speed_rpm: float | None
    fans: Mapping[str, float]
    manual: bool


@dataclass(frozen=True, slots=True)
class PartTemperature:
    """The warmest spot of a part; ``headroom_k`` is what its limit leaves at the brief's confidence.

    ``role`` is a key of ``ROLE_WORDS``; ``place`` is the bay group of drives.
    """

    role: str
    place: str
    temperature_c: Figure
    limit_c: float
    headroom_k: float

    @property
    def words(self) -> str:
        """The part's name in a sentence."""
        return ROLE_WORDS[self.role] + (f" of {self.place}" if self.place else "")


@dataclass(frozen=True, slots=True)
class NoiseAtSeat:
    """The level at the seat and where it comes from, loudest first.

    ``target_dba`` and ``chance`` (of staying below it) are None in scenarios in which the target does not hold.
    ``parts`` maps names of sources to part codes.
    """

    noise_dba: Figure
    with_background_dba: float
    target_dba: float | None
    chance: float | None
    contributions: tuple[SourceLevel, ...]
    parts: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Prediction:
    """What is predicted for one scenario."""

    temperatures: tuple[PartTemperature, ...]
    noise: NoiseAtSeat

    def warmest(self, role: str) -> PartTemperature | None:
        """The part of a role that is warmest, None where there is none."""
        found = [part for part in self.temperatures if part.role == role]
        return max(found, key=lambda part: part.temperature_c.value, default=None)


@dataclass(frozen=True, slots=True)
class End:
    """One end of what a build can do within its limits: settings, loudest judged level, least headroom."""

    settings: Mapping[str, Mapping[str, Speeds]]
    noise_dba: float
    headroom_k: float


@dataclass(frozen=True, slots=True)
class ZoneAir:
    """Air of one zone: pressure [Pa] over the outside at its height, temperature, share of fresh air that enters it."""

    code: str
    pressure_pa: float
    temperature_c: float
    fresh_share: float


@dataclass(frozen=True, slots=True)
class OpeningAir:
    """Air through one opening, or through the lower or upper half of a tall one; positive from -> to.

    ``reversed`` says that it blows the wrong way.
    """

    code: str
    half: str
    from_zone: str
    to_zone: str
    mass_flow_kgs: float
    mass_flow_u_kgs: float
    flow_m3s: float
    reversed: bool


@dataclass(frozen=True, slots=True)
class Airflow:
    """The air of one scenario; shares are of the throughflow, ``score`` is the criterion's (``airflow.quality``).

    ``intake_c`` is the room's air at the machine, warmer than the room where a place holds heat back.
    """

    intake_c: float
    zones: tuple[ZoneAir, ...]
    openings: tuple[OpeningAir, ...]
    throughflow_kgs: float
    air_changes_per_h: float
    fresh_share: float
    filtered_share: float
    wrong_way_share: float
    short_circuit_share: float
    score: float


@dataclass(frozen=True, slots=True)
class Bay:
    """One drive's bay; the temperature is that of the warmest drive of its group, in the scenario named."""

    bay: str
    group: str
    adapter: str
    drive: str
    temperature_c: Figure
    scenario: str


@dataclass(frozen=True, slots=True)
class PowerState:
    """Power in one scenario [W]: by kind of part, load and share of the supply's rating, from the wall.

    ``extrapolated`` marks a load below the least one at which the supply's efficiency was measured.
    """

    draw_w: Mapping[str, float]
    load_w: float
    load_share: float
    efficiency: float
    wall_w: float
    loss_w: float
    extrapolated: bool


@dataclass(frozen=True, slots=True)
class Backup:
    """The UPS unit chosen, None where none suffices, with the reason; at the load when working [W]."""

    unit: str | None
    name: str
    minutes: float | None
    load_w: float
    price: float | None
    reason: str


@dataclass(frozen=True, slots=True)
class Power:
    """Power by scenario, a year's energy and what it costs, how drives start, and the UPS where one is asked for."""

    scenarios: Mapping[str, PowerState]
    yearly_kwh: float
    yearly_cost: float
    duty: Mapping[str, float]
    spin_up: SpinUpPlan | None
    ups: Backup | None


@dataclass(frozen=True, slots=True)
class BuildRecord:
    """Everything said about one build at its settings.

    ``noise_margin_db``, ``noise_chance`` and ``headroom_k`` are the least over the scenarios they are judged in;
    ``size_m`` is width, height and depth as it stands; ``spare_places`` is how many more drives it takes, beyond the
    bays that the brief keeps free; ``loaded_kg`` is an estimate.
    """

    enclosure: str
    parts: tuple[PartLine, ...]
    price: float
    settings: Mapping[str, Mapping[str, Speeds]]
    predictions: Mapping[str, Prediction]
    headroom_k: float
    noise_margin_db: float
    noise_chance: float
    ends: Mapping[str, End]
    airflow: Mapping[str, Airflow]
    bays: tuple[Bay, ...]
    power: Power
    storage: StorageFigures | None
    size_m: tuple[float, float, float]
    spare_places: int
    loaded_kg: float
    warnings: tuple[str, ...]
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]
