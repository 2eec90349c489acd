"""Parts of a case as the arrays that the judging kernels read."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from advisor.engine.case.case import DRIVE_HEAT_U_REL, Case
from advisor.engine.case.components import LIMITS
from advisor.engine.case.settings import Steps, group_steps
from advisor.engine.case.sound import SEATED
from advisor.engine.inputs import AirCooledPart, Cooler, Drive
from advisor.engine.noise.levels import energy
from advisor.engine.noise.sources import density_term, sound_power
from advisor.engine.power.draw import drive_watts
from advisor.engine.scenarios import SCENARIO_TABLE
from advisor.engine.storage.form_factors import DRIVE_SIZE_M


@dataclass(frozen=True)
class CaseArrays:
    """What of a case the kernels read: see ``slacks`` and ``choice`` for shapes."""

    graphics: np.ndarray
    cooled: np.ndarray
    film: np.ndarray
    processor: np.ndarray
    processor_watts: np.ndarray
    processor_room: np.ndarray
    noisy: np.ndarray
    target: float
    z: float
    heat_u: float


def case_arrays(case: Case) -> CaseArrays:
    """Collect a case's own figures."""
    brief, named = case.brief, case.named
    gpu = np.zeros(10)
    if named.graphics is not None:
        shares = np.array([scenario.graphics_share for scenario in SCENARIO_TABLE])
        g = named.graphics
        gpu = np.array(
            [*(brief.graphics_watts * shares), g.heat_u_rel, g.r_k_w, g.r_u_rel, g.flow_exponent, g.flow_exponent_u]
        )
    film = np.array(
        [[a.temperature_c, a.density, a.viscosity, a.conductivity, a.prandtl] for a in case.room.air], dtype=float
    )
    p = named.processor
    watts = np.array([brief.processor_watts * scenario.processor_share for scenario in SCENARIO_TABLE])
    limit = min(brief.limit_processor_c, p.limit_c)
    return CaseArrays(
        gpu, _cooled(case), film, np.array([p.inner_k_w, p.inner_u_rel, p.heat_u_rel]), watts,
        limit - case.room.temperature_c,
        np.array([scenario.code in brief.noise_scenarios for scenario in SCENARIO_TABLE]),
        float(energy(brief.noise_target_dba)), NormalDist().inv_cdf(brief.confidence), DRIVE_HEAT_U_REL,
    )  # fmt: skip


def _cooled(case: Case) -> np.ndarray:
    rows = np.zeros((len(case.components.names), 3))
    for c, part in enumerate(cooled_parts(case)):
        if part is not None:
            rows[c] = part.rise_k, part.needed_air_m_s, part.rise_u_rel
    return rows


def cooled_parts(case: Case) -> list[AirCooledPart | None]:
    """The air-cooled part behind each component, None for the others; of several controllers the most demanding."""
    controller = max(case.controllers, key=lambda part: (part.rise_k, part.code), default=None)
    by_role = {"ssd": case.named.ssd, "card": case.named.card, "controller": controller}
    return [by_role.get(name) for name in case.components.names]


def limits_c(case: Case, drive: Drive | None) -> np.ndarray:
    """Limit (6,) [degC] of every kind of part, infinite where there is none."""
    brief, named = case.brief, case.named
    limits = np.full(len(LIMITS), np.inf)
    for part, name in zip(cooled_parts(case), case.components.names, strict=True):
        if part is not None:
            limits[LIMITS.index(name)] = part.limit_c
    if named.graphics is not None:
        limits[LIMITS.index("graphics")] = min(brief.limit_graphics_c, named.graphics.limit_c)
    if drive is not None:
        limits[LIMITS.index("drive")] = min(brief.limit_drive_c, drive.limit_c)
    limits[LIMITS.index("processor")] = min(brief.limit_processor_c, named.processor.limit_c)
    return limits


@dataclass(frozen=True)
class DriveArrays:
    """Drive models: power (models, 5) of one drive, surface [m2], length and height [m] (models,)."""

    watts: np.ndarray
    surface: np.ndarray
    length: np.ndarray
    height: np.ndarray


def drive_arrays(drives: tuple[Drive | None, ...]) -> DriveArrays:
    """Collect drive models; a case without drives has one that sheds no heat."""
    watts, surface, length, height = [], [], [], []
    for drive in drives:
        size = DRIVE_SIZE_M[drive.form if drive else "3.5"]
        watts.append([drive_watts(drive.idle_w, drive.seek_w, s.seeking) if drive else 0.0 for s in SCENARIO_TABLE])
        surface.append(drive.surface_m2 if drive else 1.0)
        length.append(size[2])
        height.append(size[0])
    return DriveArrays(np.array(watts, dtype=float), np.array(surface), np.array(length), np.array(height))


@dataclass(frozen=True)
class CoolerArrays:
    """Coolers: (coolers, 5) R_solid, R_air, uncertainties; flow exponents; steps; speeds; energies (coolers, 5,
    steps).
    """

    figures: np.ndarray
    flow_exponent: np.ndarray
    count: np.ndarray
    manual: np.ndarray
    speed_log: np.ndarray
    speed_factor: np.ndarray
    energy: np.ndarray
    steps: tuple[Steps, ...]

    @property
    def quietest(self) -> np.ndarray:
        """Sound energy at the seat (coolers, 5) of every cooler at its quietest step."""
        beyond = np.arange(self.energy.shape[2])[None, None, :] >= self.count[:, None, None]
        return np.where(beyond, np.inf, self.energy).min(axis=2)


def cooler_arrays(case: Case, coolers: tuple[Cooler, ...]) -> CoolerArrays:
    """Collect coolers with their steps and the sound energy of each at the seat."""
    steps = tuple(group_steps((cooler,)) for cooler in coolers)
    most = max(len(one) for one in steps)
    speed_log, sound = np.zeros((len(coolers), most)), np.zeros((len(coolers), 5, most))
    transfer = case.paths[SEATED["processor"]].transfer
    louder = np.asarray(density_term(case.room.density))[:, None]
    for q, (cooler, one) in enumerate(zip(coolers, steps, strict=True)):
        if cooler.max_rpm > 0:
            speed_log[q, : len(one)] = np.log(one.rpm[:, 0] / cooler.max_rpm)
            level = np.asarray(sound_power(one.rpm[:, 0], cooler.sound))
            sound[q, :, : len(one)] = energy(level[None, :] + louder) * transfer
    m = np.array([cooler.speed_exponent for cooler in coolers])
    return CoolerArrays(
        np.array([
            [c.r_solid_k_w, c.r_air_k_w, c.r_u_rel, c.flow_exponent_u, c.speed_exponent_u] for c in coolers
        ]),
        np.array([cooler.flow_exponent for cooler in coolers]),
        np.array([len(one) for one in steps]), np.array([one.manual for one in steps]),
        speed_log, np.exp(-m[:, None] * speed_log), sound, steps,
    )  # fmt: skip
