"""Paths: faces, turning, room, sensitivities."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.engine.errors import InputError
from advisor.engine.inputs import FACES
from advisor.engine.noise import paths
from advisor.engine.noise.paths import (
    PLACEMENTS,
    directivity_q,
    placement_loss_db,
    side_of_face,
    trace,
    transfer,
)
from advisor.engine.orientation import ROTATIONS

LOSS = {"front": 1.0, "rear": 0.5, "left": 10.0, "right": 9.0, "top": 2.0, "bottom": 4.0}
SHARES = {"front": 0.4, "rear": 0.3, "left": 0.1, "top": 0.2}
ROOM = {"seat_side": "front", "orientation": "upright", "distance_m": 1.0, "directivity_q": 2.0, "absorption_m2": 10.0}

sides = st.sampled_from(["front", "rear", "left", "right"])
orientations = st.sampled_from(sorted(ROTATIONS))


def path(shares=SHARES, loss=LOSS, **changes):
    return trace(shares, loss, **{**ROOM, **changes})


def test_transfer_is_the_formula_written_out():
    spread = 2.0 / (4 * math.pi * 1.5**2)
    expected = 0.7 * 10**-0.1 * (spread + 0.4) + 0.3 * 10**-0.05 * (spread * 10**-0.6 + 0.4)
    assert transfer({"front": 0.7, "rear": 0.3}, LOSS, "front", "upright", 1.5, 2.0, 10.0) == pytest.approx(expected)


@given(sides, orientations)
def test_parts_of_a_path_sum_to_it(seat_side, orientation):
    found = path(seat_side=seat_side, orientation=orientation)
    assert sum(found.by_face.values()) == pytest.approx(found.transfer)
    assert sum(found.direct_by_side.values()) + found.reverberant == pytest.approx(found.transfer)


def test_turning_to_another_seat_side_swaps_front_and_rear():
    swapped = {"front": LOSS["rear"], "rear": LOSS["front"]}
    facing = trace({"front": 1.0}, LOSS, **ROOM)
    turned = trace({"rear": 1.0}, swapped, **{**ROOM, "seat_side": "rear"})
    assert turned.transfer == pytest.approx(facing.transfer)


@pytest.mark.parametrize(
    ("face", "orientation", "side"),
    [
        ("front", "upright", "facing"),
        ("rear", "upright", "behind"),
        ("left", "upright", "side"),
        ("top", "upright", "side"),
        ("top", "on_front", "facing"),
        ("bottom", "on_front", "behind"),
        ("front", "on_front", "side"),
        ("front", "on_left", "facing"),
    ],
)
def test_turning_changes_which_face_looks_at_the_seat(face, orientation, side):
    assert side_of_face(face, "front", orientation) == side


@given(sides, orientations)
def test_one_face_looks_at_the_seat_and_one_away(seat_side, orientation):
    found = sorted(side_of_face(face, seat_side, orientation) for face in FACES)
    assert found == ["behind", "facing", "side", "side", "side", "side"]


@given(st.floats(0.3, 5.0), st.floats(0.1, 5.0))
def test_farther_is_never_louder(distance_m, extra):
    assert path(distance_m=distance_m + extra).transfer < path(distance_m=distance_m).transfer


@given(st.floats(1.0, 100.0), st.floats(0.1, 50.0))
def test_more_absorption_is_never_louder(absorption_m2, extra):
    assert path(absorption_m2=absorption_m2 + extra).transfer < path(absorption_m2=absorption_m2).transfer


def test_insertion_loss_of_all_faces_comes_off_in_full():
    louder = {face: value - 3.0 for face, value in LOSS.items()}
    assert 10 * math.log10(path(loss=louder).transfer / path().transfer) == pytest.approx(3.0)


def test_directivity_leaves_the_reverberant_part_alone():
    behind = path({"rear": 1.0}, distance_m=1e6)
    facing = path({"front": 1.0}, {"front": LOSS["rear"]}, distance_m=1e6)
    assert behind.transfer == pytest.approx(facing.transfer, rel=1e-9)


def level(**changes):
    return 10 * math.log10(path(**changes).transfer)


@pytest.mark.parametrize("face", sorted(SHARES))
def test_slope_by_insertion_loss_equals_difference(face):
    up, down = ({**LOSS, face: LOSS[face] + step} for step in (1e-4, -1e-4))
    assert path().per_insertion_loss(face) == pytest.approx((level(loss=up) - level(loss=down)) / 2e-4, rel=1e-6)


def test_slope_by_a_face_without_sound_is_zero():
    assert path().per_insertion_loss("bottom") == 0.0


def test_slope_by_log_absorption_equals_difference():
    difference = (level(absorption_m2=10.0 * math.exp(1e-4)) - level(absorption_m2=10.0 * math.exp(-1e-4))) / 2e-4
    assert path().per_log_absorption() == pytest.approx(difference, rel=1e-6)


@pytest.mark.parametrize("side", ["facing", "side", "behind"])
def test_slope_by_directivity_equals_difference(side, monkeypatch):
    def at(step):
        monkeypatch.setitem(paths.DIRECTIVITY_DB, side, before + step)
        return level()

    before = paths.DIRECTIVITY_DB[side]
    slope = path().per_directivity(side)
    assert slope == pytest.approx((at(1e-4) - at(-1e-4)) / 2e-4, rel=1e-6)


def test_cupboard_holds_back_sound_on_all_ways():
    loss = placement_loss_db("cupboard")
    assert 10 * math.log10(path().transfer / path(placement_loss_db=loss).transfer) == pytest.approx(loss)


def test_a_second_reflecting_plane_doubles_the_direct_sound():
    assert directivity_q("under_desk") == 2 * directivity_q("open")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: directivity_q("attic"), "'attic' is not known; use one of open, under_desk, cupboard"),
        (lambda: path(seat_side="top"), "seat side 'top' is not known"),
        (lambda: path(orientation="tilted"), "orientation 'tilted'"),
        (lambda: path(distance_m=0.0), "seat distance 0 m"),
        (lambda: path(absorption_m2=-5.0), "room absorption -5 m2"),
        (lambda: path(directivity_q=math.inf), "directivity factor inf"),
        (lambda: path({"front": 0.5}), "sum to 1"),
        (lambda: path({"front": 1.5, "rear": -0.5}), "sum to 1"),
        (lambda: path({}), "sum to 1"),
        (lambda: path({"front": 1.0}, {"rear": 1.0}), "no insertion loss for the faces front"),
    ],
)
def test_bad_paths_are_refused(call, words):
    with pytest.raises(InputError, match=words):
        call()


def test_placements_are_those_of_the_brief():
    assert sorted(PLACEMENTS) == ["cupboard", "open", "under_desk"]
