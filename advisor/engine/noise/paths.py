"""From a source inside the enclosure to the seat: faces, what they hold back, the way they look, and the room."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.engine.errors import InputError
from advisor.engine.noise.levels import energy
from advisor.engine.orientation import turned_face

_OPPOSITE = {"front": "rear", "rear": "front", "left": "right", "right": "left"}
_SHARES_TOLERANCE = 1e-6

# Directivity of a face's direct sound towards the seat [dB], each +- 2 dB (estimate of the trade).
DIRECTIVITY_DB = {"facing": 0.0, "side": -3.0, "behind": -6.0}
DIRECTIVITY_U_DB = 2.0

# Relative standard uncertainty of the room's absorption (estimate).
ABSORPTION_U_REL = 0.2


@dataclass(frozen=True, slots=True)
class Placement:
    """Where the enclosure stands: directivity factor Q [-], and loss to the seat with its uncertainty [dB]."""

    directivity_q: float
    loss_db: float
    loss_u_db: float


# Q doubles with each reflecting plane: floor (2), floor and wall or desk (4). The loss of a cupboard whose door is
# shut and whose ventilation is open is an estimate.
PLACEMENTS = {
    "open": Placement(2.0, 0.0, 0.0),
    "under_desk": Placement(4.0, 0.0, 0.0),
    "cupboard": Placement(2.0, 6.0, 3.0),
}


@dataclass(frozen=True, slots=True)
class Path:
    """How a source's sound power reaches the seat, and what that depends on.

    Attributes
    ----------
    transfer : tau [1/m2], ``Lp = Lw + 10 log10(tau)``
    by_face : each face's part of ``transfer`` [1/m2]; the parts sum to it
    face_shares : share of the sound power that leaves by each face [-]
    direct_by_side : direct part of ``transfer`` by ``facing``, ``side``, ``behind`` [1/m2]
    reverberant : the part of ``transfer`` by way of the room's walls [1/m2]
    """

    transfer: float
    by_face: Mapping[str, float]
    face_shares: Mapping[str, float]
    direct_by_side: Mapping[str, float]
    reverberant: float

    def per_insertion_loss(self, face: str) -> float:
        """Return d Lp / d (insertion loss of ``face``) [dB/dB]."""
        return -self.by_face.get(face, 0.0) / self.transfer

    def per_directivity(self, side: str) -> float:
        """Return d Lp / d (directivity of a side: ``facing``, ``side`` or ``behind``) [dB/dB]."""
        return self.direct_by_side[side] / self.transfer

    def per_log_absorption(self) -> float:
        """Return d Lp / d ln(absorption) [dB]."""
        return -10.0 / math.log(10.0) * self.reverberant / self.transfer


def placement_of(code: str) -> Placement:
    """Return where the enclosure stands; ``code`` is ``open``, ``under_desk`` or ``cupboard``.

    >>> placement_of("cupboard").loss_db
    6.0
    """
    try:
        return PLACEMENTS[code]
    except KeyError:
        raise InputError(f"placement '{code}' is not known; use one of {', '.join(PLACEMENTS)}") from None


def directivity_q(placement: str) -> float:
    """Return the directivity factor Q [-] of a placement: 2 over a floor, 4 also before a wall or under a desk.

    >>> directivity_q("under_desk")
    4.0
    """
    return placement_of(placement).directivity_q


def placement_loss_db(placement: str) -> float:
    """Return how much a placement holds back on the way to the seat [dB]; its uncertainty is in ``PLACEMENTS``.

    >>> placement_loss_db("open")
    0.0
    """
    return placement_of(placement).loss_db


def side_of_face(face: str, seat_side: str, orientation: str) -> str:
    """Return how a face looks at the seat once the enclosure is turned: ``facing``, ``side`` or ``behind``.

    ``seat_side`` is the room's side on which the seat is, named as the sides of the upright enclosure.

    >>> side_of_face("top", "front", "on_front")
    'facing'
    """
    if seat_side not in _OPPOSITE:
        raise InputError(f"seat side '{seat_side}' is not known; use one of {', '.join(_OPPOSITE)}")
    looks = turned_face(face, orientation)
    if looks == seat_side:
        return "facing"
    return "behind" if looks == _OPPOSITE[seat_side] else "side"


def trace(
    shares: Mapping[str, float],
    insertion_loss_db: Mapping[str, float],
    seat_side: str,
    orientation: str,
    distance_m: float,
    directivity_q: float,
    absorption_m2: float,
    placement_loss_db: float = 0.0,
) -> Path:
    """Return the path of a source's sound to the seat.

    Parameters
    ----------
    shares : of the sound power over the faces [-], summing to 1
    insertion_loss_db : A-weighted, of each face [dB]
    seat_side : ``front``, ``rear``, ``left`` or ``right``, of the room
    orientation : how the enclosure stands, see ``orientation.ROTATIONS``
    distance_m : from the enclosure to the seat [m], above 0
    directivity_q : Q of the placement [-]
    absorption_m2 : absorption area A of the room [m2], above 0
    placement_loss_db : held back by the placement on all ways [dB]

    Notes
    -----
    ``tau = sum_f s_f 10^(-IL_f/10) (Q D_f/(4 pi r^2) + 4/A)``, D_f on the direct part only: 0 dB facing the seat,
    -3 dB to the sides, upward and downward, -6 dB behind. Source: Beranek, Noise and Vibration Control (direct and
    diffuse field).

    >>> path = trace({"front": 1.0}, {"front": 0.0}, "front", "upright", 1.0, 2.0, 1e9)
    >>> round(10 * math.log10(path.transfer), 2)
    -7.98
    """
    _check_room(distance_m, directivity_q, absorption_m2)
    _check_shares(shares, insertion_loss_db)
    spread = directivity_q / (4.0 * math.pi * distance_m**2)
    by_face: dict[str, float] = {}
    direct_by_side = dict.fromkeys(DIRECTIVITY_DB, 0.0)
    reverberant = 0.0
    for face, share in shares.items():
        side = side_of_face(face, seat_side, orientation)
        leaving = share * float(energy(-insertion_loss_db[face] - placement_loss_db))
        direct = leaving * spread * float(energy(DIRECTIVITY_DB[side]))
        by_face[face] = direct + leaving * 4.0 / absorption_m2
        direct_by_side[side] += direct
        reverberant += leaving * 4.0 / absorption_m2
    return Path(math.fsum(by_face.values()), by_face, dict(shares), direct_by_side, reverberant)


def transfer(
    shares: Mapping[str, float],
    insertion_loss_db: Mapping[str, float],
    seat_side: str,
    orientation: str,
    distance_m: float,
    directivity_q: float,
    absorption_m2: float,
    placement_loss_db: float = 0.0,
) -> float:
    """Return tau [1/m2], so that ``Lp = Lw + 10 log10(tau)`` at the seat; arguments as in ``trace``.

    >>> round(transfer({"rear": 1.0}, {"rear": 3.0}, "front", "upright", 1.0, 2.0, 10.0), 4)
    0.2205
    """
    return trace(
        shares,
        insertion_loss_db,
        seat_side,
        orientation,
        distance_m,
        directivity_q,
        absorption_m2,
        placement_loss_db,
    ).transfer


def _check_room(distance_m: float, directivity_q: float, absorption_m2: float) -> None:
    for name, value, unit in (
        ("seat distance", distance_m, "m"),
        ("directivity factor", directivity_q, ""),
        ("room absorption", absorption_m2, "m2"),
    ):
        if not 0.0 < value < math.inf:
            raise InputError(f"{name} {value:g} {unit} has to be above 0 and finite")


def _check_shares(shares: Mapping[str, float], insertion_loss_db: Mapping[str, float]) -> None:
    if not (abs(math.fsum(shares.values()) - 1.0) <= _SHARES_TOLERANCE and min(shares.values()) >= 0.0):
        raise InputError(f"sound shares {dict(shares)} have to be 0 or more and sum to 1")
    missing = [face for face in shares if face not in insertion_loss_db]
    if missing:
        raise InputError(f"no insertion loss for the faces {', '.join(missing)} that sound leaves by; give one each")
