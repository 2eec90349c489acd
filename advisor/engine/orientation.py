"""How an enclosure stands: rotations of positions and faces.

The enclosure's own axes are x right, y rear, z up (see ``inputs``). An orientation is a proper rotation of these
axes into the room's, whose z points up and whose y points away from the side where the front used to be.
"""

from __future__ import annotations

import numpy as np

from advisor.engine.errors import InputError

_NORMALS = {
    "right": (1, 0, 0),
    "left": (-1, 0, 0),
    "rear": (0, 1, 0),
    "front": (0, -1, 0),
    "top": (0, 0, 1),
    "bottom": (0, 0, -1),
}
_FACE_OF = {normal: face for face, normal in _NORMALS.items()}

# Rows: the room's x, y, z in terms of the enclosure's axes.
ROTATIONS = {
    "upright": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "on_left": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "on_right": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "on_front": ((1, 0, 0), (0, 0, -1), (0, 1, 0)),
    "on_rear": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "inverted": ((-1, 0, 0), (0, 1, 0), (0, 0, -1)),
}


def rotation(orientation: str) -> np.ndarray:
    """Return the 3 by 3 rotation matrix of an orientation.

    >>> rotation("on_front") @ np.array([0.0, 0.0, 1.0])
    array([ 0., -1.,  0.])
    """
    try:
        return np.array(ROTATIONS[orientation], dtype=float)
    except KeyError:
        accepted = ", ".join(ROTATIONS)
        raise InputError(f"orientation '{orientation}' is not known; use one of {accepted}") from None


def turned_face(face: str, orientation: str) -> str:
    """Return which way a face of the enclosure looks once it is turned.

    >>> turned_face("front", "on_front"), turned_face("top", "on_front")
    ('bottom', 'front')
    """
    normal = rotation(orientation) @ np.array(_NORMALS[face], dtype=float)
    x, y, z = (int(round(v)) for v in normal)
    return _FACE_OF[x, y, z]


def heights(positions: np.ndarray, orientation: str) -> np.ndarray:
    """Return heights [m] over the enclosure's own origin once turned, for positions of shape (n, 3) [m]."""
    up = rotation(orientation)[2]
    z = np.asarray(positions, dtype=float) @ up
    return z


def vertical_extent(height_m: float, face: str, orientation: str) -> float:
    """Return the vertical extent [m] of an opening ``height_m`` tall on a face, once turned.

    An opening on a face that comes to lie flat has none; one on a flat face that comes to stand keeps its size.
    """
    return 0.0 if turned_face(face, orientation) in ("top", "bottom") else height_m
