"""Energies of sources and of faces add up to the total; what is left without one is their difference."""

import math

import pytest

from frontend.pictures import noise
from tests.frontend.making import build, prediction


def energy(level):
    return 10 ** (level / 10)


@pytest.fixture
def picture():
    return noise.of_build(build(), "working")


def test_energies_add_up_to_the_total(picture):
    for shares in (picture.sources, picture.faces):
        assert 10 * math.log10(sum(energy(one.level_dba) for one in shares)) == pytest.approx(30.0)


def test_without_a_source_the_others_are_left(picture):
    """Without three quarters of the energy a quarter is left, which is 6 dB less."""
    fans, drives = picture.sources
    assert fans.without_dba == pytest.approx(30.0 - 6.0206, abs=1e-3) == pytest.approx(drives.level_dba, abs=1e-3)
    assert drives.without_dba == pytest.approx(fans.level_dba)


def test_parts_of_the_bar_lie_end_to_end(picture):
    for shares in (picture.sources, picture.faces):
        ends = [0.0, *(one.start + one.width for one in shares)]
        assert [one.start for one in shares] == pytest.approx(ends[:-1]) and ends[-1] == pytest.approx(100.0)


def test_nothing_is_left_without_the_only_source():
    made = build()
    made["predictions"]["idle"] = prediction() | {"noise_by_source": {"supply": 1.0}, "noise_sources": []}
    (only,) = noise.of_build(made, "idle").sources
    assert only.without_dba is None and only.level_dba == pytest.approx(30.0)


def test_sources_are_named_with_their_part_and_their_ways(picture):
    fans = picture.sources[0]
    assert (fans.name, fans.part, fans.letter) == ("front fans", "Box", "A")
    assert fans.through == "front 28.8\u202fdBA"


def test_a_level_agrees_with_the_path_of_the_record(picture):
    """Each source here has one way: what it makes alone is what the record says of that way."""
    sources = build()["predictions"]["working"]["noise_sources"]
    assert [one.level_dba for one in picture.sources] == pytest.approx([one["level_dba"] for one in sources], abs=2e-3)
