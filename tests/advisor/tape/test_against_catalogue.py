"""Enclosures of the demo catalogue entered again by tape: what both networks predict for the same parts and speeds.

The catalogue's networks were drawn by hand, before and apart; neither is a measurement. Three of the entries (a 2U
rack, a sideboard, a tower for ten drives) were made after the rules stood.
"""

from collections import defaultdict
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from advisor.assembly import catalogue
from advisor.engine.inputs import Brief, Enclosure
from advisor.tape.files import read_tape_file
from catalog.importing.loading import load_catalog
from tests.advisor.tape.machines import Compared, compare, entry_files, machine, stored_file

DEMO = Path(__file__).parents[3] / "fixtures" / "catalog"
BY_HAND = {
    "archive_10": "rushgate-archive-10",
    "duplex": "tolvick-duplex",
    "flue": "omberdale-flue",
    "granary_140": "hallmere-granary-140",
    "octet": "tolvick-octet",
    "rack_2u": "rushgate-2u-8",
    "rack_4u": "rushgate-4u-24",
    "sideboard": "pellinwood-sideboard",
    "sideways_200": "omberdale-sideways-200",
    "sieve_120": "tolvick-sieve-120",
    "sieve_140": "tolvick-sieve-140",
    "small_two": "quenfold-small-two",
}
# Largest usual standard uncertainty by tape [K], [dB]: bands that hold everything would say nothing.
USEFUL_U = {"processor": 5.5, "graphics": 10.0, "drive": 7.0, "noise": 3.0}


def brief_for(box: Enclosure) -> Brief:
    held = sum(group.count for group in box.bay_groups if group.form == "3.5")
    graphics = 120.0 if box.card_length_m >= 0.24 and box.card_slots >= 2 else 0.0
    board = next(form for form in ("atx", "micro_atx", "mini_itx") if form in box.board_forms)
    return Brief(
        95.0, board, 35.0, drive_count=min(held, 4), graphics_watts=graphics, graphics_count=int(graphics > 0),
        graphics_length_m=0.22 if graphics else 0.0, graphics_slots=2 if graphics else 0,
    )  # fmt: skip


def test_every_entry_has_its_enclosure():
    assert {path.stem for path in entry_files()} == set(BY_HAND)


@pytest.mark.parametrize("path", entry_files(), ids=lambda path: path.stem)
def test_every_entry_says_that_it_is_invented_and_reads(path):
    assert "Invented" in path.read_text().splitlines()[0]
    assert [one.reading.problems for one in read_tape_file(path)] == [()]


def compared(db) -> dict[str, list[Compared]]:
    load_catalog(path=DEMO, at=datetime(2031, 6, 1, tzinfo=UTC))
    parts = catalogue()
    found = defaultdict(list)
    for path in entry_files():
        by_hand = next(box for box in parts.enclosures if box.code == BY_HAND[path.stem])
        brief = brief_for(by_hand)
        builds = [machine(box, parts, brief) for box in (by_hand, stored_file(path))]
        for one in compare(*builds, parts):
            found[one.name].append(one)
    return found


@pytest.mark.slow
def test_differences_lie_within_the_stated_bands(db):
    """Nine tenths within two standard uncertainties: of the difference, where shared parts count once, and alone."""
    found = compared(db)
    assert sum(map(len, found.values())) >= 200
    for name, figures in found.items():
        of_difference = [abs(one.gap) <= 2 * one.difference_u for one in figures]
        alone = [abs(one.gap) <= 2 * one.tape_u for one in figures]
        assert np.mean(of_difference) >= 0.9 and np.mean(alone) >= 0.9, name
        assert np.median([one.tape_u for one in figures]) < USEFUL_U[name], name
