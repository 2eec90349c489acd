"""How much sound an enclosure's face lets out: solid panels by their mass, holes by the air that swings in them.

An enclosure is a small room. Sound that strikes a face is let through (tau), swallowed (alpha) or thrown back to
strike another, so that of what does not come back the share ``tau / (tau + alpha)`` gets out by that face.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from advisor.engine.errors import InputError
from advisor.engine.noise.levels import energy, level

# Octaves in which panels are reckoned [Hz].
BANDS_HZ = (125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0)

# A-weighted spectrum of fans and drives in these octaves [dB], against their sum (common practice, no source).
SPECTRUM_DB = (-16.0, -9.0, -5.0, -5.0, -7.0, -12.0)

# Air at 20 degC: density [kg/m3] times speed of sound [m/s], the impedance against which a panel's mass stands.
_DENSITY = 1.2
_IMPEDANCE = _DENSITY * 343.2
# Sound that strikes from all sides passes more easily than straight on: Beranek & Ver, field incidence.
FIELD_INCIDENCE_DB = 5.0
FOAM_THICKNESS_M = 0.01
# Absorption of open-celled foam of that thickness, glued to a wall, in these octaves (handbook tables, from memory).
FOAM_ABSORPTION = (0.05, 0.10, 0.20, 0.40, 0.60, 0.70)


def mass_law(mass_kg_m2: float, frequency_hz: float) -> float:
    """Return the share [-] of sound energy from all sides that passes a solid panel.

    Parameters
    ----------
    mass_kg_m2 : mass of the panel by area [kg/m2], 0 or more
    frequency_hz : [Hz]

    Notes
    -----
    ``tau = min(1, 10^0.5 / (1 + (pi f m / (rho c))^2))``: normal incidence less 5 dB, below the panel's critical
    frequency (14 kHz for 0.8 mm steel). Source: Beranek & Ver, Noise and Vibration Control Engineering, chapter 9.

    >>> round(-10 * math.log10(mass_law(6.28, 1000.0)), 1)
    28.6
    """
    swing = math.pi * frequency_hz * mass_kg_m2 / _IMPEDANCE
    return min(1.0, float(energy(FIELD_INCIDENCE_DB)) / (1.0 + swing**2))


def holes(free_share: float, hole_m: float, thickness_m: float, frequency_hz: float) -> float:
    """Return the share [-] of sound energy that passes a perforated panel by its holes.

    Parameters
    ----------
    free_share : open area over whole area [-], above 0 to 1
    hole_m : diameter of a hole [m]
    thickness_m : of the panel [m]
    frequency_hz : [Hz]

    Notes
    -----
    ``tau = 1 / (1 + (pi f m / (rho c))^2)`` with m the mass of air that swings,
    ``m = rho (t + 0.85 d (1 - 1.47 s^0.5 + 0.47 s^1.5)) / s``, s the free share. Holes much smaller than a wave.
    Source: Ingard 1953 for the ends; Bies & Hansen, Engineering Noise Control, chapter 8.

    >>> round(-10 * math.log10(holes(0.5, 0.003, 0.0008, 1000.0)), 3), round(holes(0.02, 0.003, 0.0008, 2000.0), 2)
    (0.002, 0.13)
    """
    if not 0.0 < free_share <= 1.0:
        raise InputError(f"free share of a perforated panel is {free_share:g}; it must be above 0 and at most 1")
    ends = 0.85 * hole_m * (1.0 - 1.47 * free_share**0.5 + 0.47 * free_share**1.5)
    mass = _DENSITY * (thickness_m + max(ends, 0.0)) / free_share
    return 1.0 / (1.0 + (math.pi * frequency_hz * mass / _IMPEDANCE) ** 2)


def foam_absorption(thickness_m: float, frequency_hz: float) -> float:
    """Return the absorption coefficient [-] of an open-celled foam lining of a thickness [m], 0 for none.

    A lining twice as thick absorbs as well an octave lower: the table of a 10 mm foam is read at ``f t / 10 mm``.

    >>> foam_absorption(0.01, 1000.0), foam_absorption(0.02, 500.0), foam_absorption(0.0, 500.0)
    (0.4, 0.4, 0.0)
    """
    if thickness_m <= 0.0:
        return 0.0
    like_hz = frequency_hz * thickness_m / FOAM_THICKNESS_M
    octave = math.log2(like_hz / BANDS_HZ[0])
    if octave < 0.0:  # below the table it falls with frequency squared, as a thin layer does
        return float(FOAM_ABSORPTION[0] * 4.0**octave)
    return float(np.interp(octave, np.arange(len(BANDS_HZ)), FOAM_ABSORPTION))


def band_weights() -> np.ndarray:
    """Return the share of A-weighted sound energy in each octave (6,); they sum to 1.

    >>> [round(float(weight), 3) for weight in band_weights()]
    [0.024, 0.12, 0.302, 0.302, 0.191, 0.06]
    """
    energies = np.asarray(energy(SPECTRUM_DB))
    return energies / energies.sum()


def insertion_loss(passed: Sequence[float], absorbed: Sequence[float]) -> float:
    """Return a face's A-weighted insertion loss [dB], 0 or more.

    Parameters
    ----------
    passed : tau of the face in each octave of ``BANDS_HZ`` [-], above 0
    absorbed : alpha of its inside in each octave [-]

    Notes
    -----
    ``IL = -10 log10 sum w tau / (tau + alpha)``, w the spectrum's energy: the energy balance of a diffuse field
    (Beranek & Ver, chapter 12, small enclosures), taken for one face. It never rises as the face lets more through.

    >>> round(insertion_loss([0.01] * 6, [0.1] * 6), 2), insertion_loss([1.0] * 6, [0.0] * 6) < 1e-9
    (10.41, True)
    """
    tau, alpha = np.asarray(passed), np.asarray(absorbed)
    share = float(band_weights() @ (tau / (tau + alpha)))
    return max(-float(level(share)), 0.0)


def diffuse_shares(
    area_m2: Mapping[str, float], passed: Mapping[str, Sequence[float]], absorbed: Mapping[str, Sequence[float]]
) -> dict[str, float]:
    """Return the share of an inner source's sound power [-] that ends at each face, let through or swallowed; sum 1.

    Parameters
    ----------
    area_m2 : area of each face [m2]; at least one above 0
    passed, absorbed : tau and alpha of each face by octave [-], as in ``insertion_loss``

    Notes
    -----
    ``s_f = S_f (tau_f + alpha_f) / sum S (tau + alpha)``, octaves weighted by the spectrum.

    >>> shares = diffuse_shares({"front": 1.0, "rear": 1.0}, {"front": [0.9] * 6, "rear": [0.0] * 6},
    ...                         {"front": [0.1] * 6, "rear": [0.1] * 6})
    >>> {face: round(share, 3) for face, share in shares.items()}
    {'front': 0.909, 'rear': 0.091}
    """
    faces = list(area_m2)
    taken = np.array([area_m2[face] * (np.asarray(passed[face]) + np.asarray(absorbed[face])) for face in faces])
    shares = (taken / taken.sum(axis=0)) @ band_weights()
    return dict(zip(faces, (float(share) for share in shares), strict=True))
