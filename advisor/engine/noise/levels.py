"""Decibel arithmetic: the only place where levels are added, subtracted or weighted.

Levels are dB (re 1 pW for sound power, 20 uPa for sound pressure); no sound at all is minus infinity.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from advisor.engine.errors import InputError

Numbers = float | NDArray[np.float64]

# ISO 3744:2010 and ECMA-74: the correction for background noise.
BACKGROUND_NEGLIGIBLE_DB = 15.0
BACKGROUND_LIMIT_DB = 6.0

# IEC 61672-1:2013 annex E: pole frequencies of the A-weighting [Hz].
_A_POLES_HZ = (20.598997, 107.65265, 737.86223, 12194.217)
_REFERENCE_HZ = 1000.0
_A_RANGE_HZ = (9.5, 20_500.0)  # the outer bands of table 3 and a little

# IEC 61672-1:2013 table 3: nominal one-third-octave mid-band frequency [Hz] -> A-weighting [dB].
# fmt: off
A_WEIGHTING_OF_BAND = {
    10.0: -70.4, 12.5: -63.4, 16.0: -56.7, 20.0: -50.5, 25.0: -44.7, 31.5: -39.4, 40.0: -34.6,
    50.0: -30.2, 63.0: -26.2, 80.0: -22.5, 100.0: -19.1, 125.0: -16.1, 160.0: -13.4, 200.0: -10.9,
    250.0: -8.6, 315.0: -6.6, 400.0: -4.8, 500.0: -3.2, 630.0: -1.9, 800.0: -0.8, 1000.0: 0.0,
    1250.0: 0.6, 1600.0: 1.0, 2000.0: 1.2, 2500.0: 1.3, 3150.0: 1.2, 4000.0: 1.0, 5000.0: 0.5,
    6300.0: -0.1, 8000.0: -1.1, 10_000.0: -2.5, 12_500.0: -4.3, 16_000.0: -6.6, 20_000.0: -9.3,
}
# fmt: on


@dataclass(frozen=True, slots=True)
class CorrectedLevel:
    """A level freed of background noise.

    Attributes
    ----------
    level_db : corrected level [dB]; an upper bound where ``limited``
    correction_db : what was taken off, K1 of ISO 3744 [dB]
    limited : the background was too near, so that the correction was held at its limit
    """

    level_db: float
    correction_db: float
    limited: bool


def energy(level_db: ArrayLike) -> Numbers:
    """Return the energy [-] of a level [dB], in units of the level's reference.

    >>> float(energy(20.0)), float(energy(-float("inf")))
    (100.0, 0.0)
    """
    return np.power(10.0, np.asarray(level_db, dtype=float) / 10.0)[()]


def level(energies: ArrayLike) -> Numbers:
    """Return the level [dB] of an energy [-]; minus infinity for none.

    >>> float(level(100.0)), float(level(0.0))
    (20.0, -inf)
    """
    with np.errstate(divide="ignore"):  # none at all is a valid energy
        return 10.0 * np.log10(np.asarray(energies, dtype=float))


def sum_levels(levels_db: ArrayLike, axis: int = -1) -> Numbers:
    """Return the level [dB] of independent sources together, along an axis.

    >>> round(float(sum_levels([80.0, 80.0])), 1)
    83.0
    """
    return level(np.sum(energy(levels_db), axis=axis))


def equal_sources(level_db: ArrayLike, count: ArrayLike) -> Numbers:
    """Return the level [dB] of ``count`` equal independent sources, each of a level [dB].

    >>> round(float(equal_sources(20.0, 4)), 2)
    26.02
    """
    return level(energy(level_db) * np.asarray(count, dtype=float))


def subtract_levels(total_db: ArrayLike, part_db: ArrayLike) -> Numbers:
    """Return the level [dB] that is left when one part is taken out of a total.

    Energies are subtracted; raises InputError where the part is above the total.

    >>> round(float(subtract_levels(93.0, 89.0)), 1)
    90.8
    """
    total, part = np.broadcast_arrays(np.asarray(total_db, dtype=float), np.asarray(part_db, dtype=float))
    louder = ~(part <= total)
    if louder.any():
        raise InputError(
            f"the part ({part[louder].flat[0]:g} dB) is louder than the total ({total[louder].flat[0]:g} dB); "
            "give a part up to the total"
        )
    return level(energy(total) - energy(part))


def subtract_background(total_db: float, background_db: float) -> CorrectedLevel:
    """Return a reading freed of background noise as ISO 3744 asks.

    Parameters
    ----------
    total_db : source and background together [dB]
    background_db : background alone [dB], up to ``total_db``

    Notes
    -----
    ``K1 = -10 log10(1 - 10^(-dL/10))``; none where the difference dL is above 15 dB; held at 1.26 dB and flagged
    where it is below 6 dB, which makes the level an upper bound.

    >>> subtract_background(40.0, 20.0)
    CorrectedLevel(level_db=40.0, correction_db=0.0, limited=False)
    >>> subtract_background(30.0, 27.0).limited
    True
    """
    difference = total_db - background_db
    if not difference >= 0.0:
        raise InputError(
            f"the background ({background_db:g} dB) is louder than the reading with the source on "
            f"({total_db:g} dB); repeat the readings in a quieter room"
        )
    if difference > BACKGROUND_NEGLIGIBLE_DB:
        return CorrectedLevel(total_db, 0.0, limited=False)
    counted = max(difference, BACKGROUND_LIMIT_DB)
    correction = -float(level(1.0 - energy(-counted)))
    return CorrectedLevel(total_db - correction, correction, limited=difference < BACKGROUND_LIMIT_DB)


def a_weighting(frequency_hz: ArrayLike) -> Numbers:
    """Return the A-weighting [dB] at a frequency [Hz], 10 Hz to 20 kHz.

    Source: IEC 61672-1:2013 annex E, normalised to 0 dB at 1 kHz. For a band, evaluate at its exact mid-band
    frequency (``exact_frequency``): at the nominal one the result is off by up to 0.28 dB.

    >>> round(float(a_weighting(100.0)), 1)
    -19.1
    """
    frequency = np.asarray(frequency_hz, dtype=float)
    outside = ~((frequency >= _A_RANGE_HZ[0]) & (frequency <= _A_RANGE_HZ[1]))
    if outside.any():
        raise InputError(
            f"frequency {frequency[outside].flat[0]:g} Hz is outside the A-weighting's range "
            f"({_A_RANGE_HZ[0]:g} to {_A_RANGE_HZ[1]:g} Hz)"
        )
    return 20.0 * np.log10(_a_response(frequency) / _a_response(np.asarray(_REFERENCE_HZ)))


def exact_frequency(nominal_hz: ArrayLike) -> Numbers:
    """Return the exact base-ten mid-band frequency [Hz] of a nominal one-third-octave frequency [Hz].

    ``1000 * 10^(n/10)``: IEC 61260-1:2014.

    >>> round(float(exact_frequency(160.0)), 3)
    158.489
    """
    steps = np.round(10.0 * np.log10(np.asarray(nominal_hz, dtype=float) / _REFERENCE_HZ))
    return (_REFERENCE_HZ * np.power(10.0, steps / 10.0))[()]


def a_weighted_total(bands_db: ArrayLike, frequencies_hz: ArrayLike) -> Numbers:
    """Return the A-weighted level [dB] of a band spectrum.

    Parameters
    ----------
    bands_db : unweighted band levels [dB], shape (..., n_bands)
    frequencies_hz : nominal octave or one-third-octave mid-band frequencies [Hz], shape (n_bands,)

    >>> round(float(a_weighted_total([40.0, 40.0], [500.0, 1000.0])), 2)
    41.7
    """
    weights = [_band_weight(float(frequency)) for frequency in np.asarray(frequencies_hz, dtype=float)]
    return sum_levels(np.asarray(bands_db, dtype=float) + np.array(weights))


def _a_response(frequency: NDArray[np.float64]) -> NDArray[np.float64]:
    f1, f2, f3, f4 = (pole**2 for pole in _A_POLES_HZ)
    square = frequency**2
    return f4 * square**2 / ((square + f1) * np.sqrt((square + f2) * (square + f3)) * (square + f4))


def _band_weight(nominal_hz: float) -> float:
    try:
        return A_WEIGHTING_OF_BAND[nominal_hz]
    except KeyError:
        accepted = ", ".join(f"{frequency:g}" for frequency in A_WEIGHTING_OF_BAND)
        raise InputError(f"{nominal_hz:g} Hz isn't a nominal mid-band frequency; use one of {accepted} Hz") from None
