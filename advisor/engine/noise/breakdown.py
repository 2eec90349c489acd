"""Where the noise comes from: what each source and face adds at the seat, and how sure the total is."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from advisor.engine.constants import DISCREPANCY_CONFIGURATION_DB, DISCREPANCY_ENCLOSURE_DB
from advisor.engine.errors import InputError
from advisor.engine.noise.levels import energy, level, sum_levels
from advisor.engine.noise.paths import ABSORPTION_U_REL, DIRECTIVITY_DB, DIRECTIVITY_U_DB, Path

Numbers = float | NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Source:
    """Something that sounds.

    Attributes
    ----------
    name : what it is called in the answer
    sound_power_db : A-weighted sound power level [dB re 1 pW]; minus infinity at rest
    standard_uncertainty_db : of the sound power level [dB]
    path : its way to the seat
    part : code of the part; sources of one part share its uncertainty. Empty: on its own
    """

    name: str
    sound_power_db: float
    standard_uncertainty_db: float
    path: Path
    part: str = ""


@dataclass(frozen=True, slots=True)
class SourceLevel:
    """What one source adds at the seat by way of one face.

    Attributes
    ----------
    source : name of the source
    path : the face
    sound_power_db : of the whole source [dB re 1 pW]
    share : share of the source's sound power that leaves by this face [-]
    level_dba : at the seat, by this face alone [dB re 20 uPa]
    heard_share : share of all sound energy at the seat [-]
    """

    source: str
    path: str
    sound_power_db: float
    share: float
    level_dba: float
    heard_share: float


@dataclass(frozen=True, slots=True)
class NoiseResult:
    """The level at the seat.

    Attributes
    ----------
    level_dba : of the machine alone [dB re 20 uPa]; minus infinity where nothing sounds
    standard_uncertainty_db : of ``level_dba`` [dB]
    contributions : loudest first
    with_background_dba : together with the room's background [dB re 20 uPa]
    terms : one standard uncertainty of each independent parameter, as a signed change of ``level_dba`` [dB]. Equal
        keys of two results are one parameter, so that their difference takes it once; but ``configuration`` is each
        result's own, and ``enclosure`` and ``insertion_loss:...`` are shared only within one enclosure
    """

    level_dba: float
    standard_uncertainty_db: float
    contributions: tuple[SourceLevel, ...]
    with_background_dba: float
    terms: Mapping[str, float]


def seat_level(sound_power_db: ArrayLike, transfers: ArrayLike) -> Numbers:
    """Return the level [dB re 20 uPa] at the seat of many candidates at once.

    Parameters
    ----------
    sound_power_db : A-weighted sound power levels [dB re 1 pW], shape (..., n_sources)
    transfers : tau of each source [1/m2], shape (n_sources,) or (..., n_sources)

    >>> [round(float(value), 1) for value in seat_level([[30.0, 30.0], [30.0, -float("inf")]], [0.5, 0.5])]
    [30.0, 27.0]
    """
    return level(np.sum(energy(sound_power_db) * np.asarray(transfers, dtype=float), axis=-1))


def breakdown(
    sources: Sequence[Source],
    *,
    insertion_loss_u_db: float,
    background_dba: float,
    placement_loss_u_db: float = 0.0,
) -> NoiseResult:
    """Return the level at the seat with its parts and its standard uncertainty.

    Parameters
    ----------
    sources : what sounds, each with its path
    insertion_loss_u_db : standard uncertainty of each face's insertion loss [dB]
    background_dba : of the room at the seat [dB re 20 uPa]
    placement_loss_u_db : standard uncertainty of the placement's loss [dB]

    Notes
    -----
    First-order propagation (JCGM 100, 5.1.2): sensitivities of a parameter that several sources share are summed
    before squaring. Two discrepancy terms, of the enclosure and of the configuration, are added.

    >>> from advisor.engine.noise.paths import trace
    >>> path = trace({"front": 1.0}, {"front": 0.0}, "front", "upright", 1.0, 2.0, 10.0)
    >>> result = breakdown([Source("fan", 30.0, 1.0, path)], insertion_loss_u_db=1.5, background_dba=25.0)
    >>> round(result.level_dba, 1), round(result.standard_uncertainty_db, 1), round(result.with_background_dba, 1)
    (27.5, 2.1, 29.4)
    """
    _check_names(sources)
    heard = [float(energy(source.sound_power_db)) * source.path.transfer for source in sources]
    total = math.fsum(heard)
    level_dba = float(level(total))
    terms: dict[str, float] = {}
    if total > 0.0:
        weights = [(source, part / total) for source, part in zip(sources, heard, strict=True) if part > 0.0]
        terms = _terms(weights, insertion_loss_u_db, placement_loss_u_db)
    return NoiseResult(
        level_dba=level_dba,
        standard_uncertainty_db=math.hypot(*terms.values()),
        contributions=tuple(sorted(_contributions(sources, total), key=lambda item: -item.level_dba)),
        with_background_dba=float(sum_levels([level_dba, background_dba])),
        terms=terms,
    )


def _contributions(sources: Sequence[Source], total: float) -> Iterator[SourceLevel]:
    for source in sources:
        power = float(energy(source.sound_power_db))
        for face, transfer in source.path.by_face.items():
            part = power * transfer
            if part > 0.0:
                share = source.path.face_shares[face]
                yield SourceLevel(
                    source.name, face, source.sound_power_db, share, float(level(part)), heard_share=part / total
                )


def _terms(
    weights: Sequence[tuple[Source, float]], insertion_loss_u_db: float, placement_loss_u_db: float
) -> dict[str, float]:
    """Return one standard uncertainty of each parameter as a change of the total [dB]."""
    terms: dict[str, float] = defaultdict(float)
    for source, weight in weights:
        terms[f"sound:{source.part or source.name}"] += weight * source.standard_uncertainty_db
        for face in source.path.by_face:
            terms[f"insertion_loss:{face}"] += weight * source.path.per_insertion_loss(face) * insertion_loss_u_db
        for side in DIRECTIVITY_DB:
            terms[f"directivity:{side}"] += weight * source.path.per_directivity(side) * DIRECTIVITY_U_DB
        terms["absorption"] += weight * source.path.per_log_absorption() * ABSORPTION_U_REL
    terms["placement"] = -placement_loss_u_db
    terms["enclosure"] = DISCREPANCY_ENCLOSURE_DB
    terms["configuration"] = DISCREPANCY_CONFIGURATION_DB
    return dict(terms)


def _check_names(sources: Sequence[Source]) -> None:
    names = [source.name for source in sources]
    doubled = sorted({name for name in names if names.count(name) > 1})
    if doubled:
        raise InputError(f"sources named twice: {', '.join(doubled)}; give each source its own name")
