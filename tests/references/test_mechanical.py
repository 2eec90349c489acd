"""Sizes against mechanical standards, with the source beside each."""

from pathlib import Path

import pytest
import yaml

from advisor.engine.boards import BOARD_SIZE_M
from advisor.engine.inputs import Adapter
from advisor.engine.storage.form_factors import BAY_SIZE_M, DRIVE_SIZE_M, check_adapter, most_drives


def in_mm(lengths_m):
    return pytest.approx([1000.0 * length for length in lengths_m])


def test_three_and_a_half_inch_drive():
    """SFF-8301 rev. 3.4, table 3-1, as an open CAD library quotes it: A3 width, A1 height, A2 length."""
    assert in_mm(DRIVE_SIZE_M["3.5"]) == [101.60, 26.10, 147.00]


def test_two_and_a_half_inch_drive():
    """SFF-8201 rev. 3.4, as an open CAD library quotes it: A4 width, A1 height (one of nine), A6 length."""
    assert in_mm(DRIVE_SIZE_M["2.5"]) == [69.85, 7.00, 100.45]


def test_five_and_a_quarter_inch_bay():
    """SFF-8551: slot 146.05 mm wide, half height 41.53 mm at most; an encyclopedia gives 41.3 mm."""
    width, height = (1000.0 * length for length in BAY_SIZE_M["5.25"])
    assert width == pytest.approx(146.05)
    assert 41.2 <= height <= 41.53


@pytest.mark.parametrize(
    ("form", "size"),
    [
        ("atx", (305, 244)),  # ATX specification, by copies of an encyclopedia's table
        ("micro_atx", (244, 244)),
        ("eatx", (305, 330)),  # SSI EEB
        ("mini_itx", (170, 170)),  # a builder's guide
    ],
)
def test_board_sizes(form, size):
    assert in_mm(BOARD_SIZE_M[form]) == list(size)


def test_five_drives_stand_where_four_lie():
    """Derived from SFF-8301 and SFF-8551: on edge five leave six gaps of 2.59 mm; lying flat only four fit."""
    bay_width, bay_height = BAY_SIZE_M["5.25"]
    drive_width, drive_height, _ = DRIVE_SIZE_M["3.5"]
    assert (bay_width - 5 * drive_height) / 6 == pytest.approx(2.59e-3, abs=5e-6)
    assert int(3 * bay_height / drive_height) == 4
    assert drive_width <= 3 * bay_height
    assert most_drives("3.5", "5.25", 3) == 5


@pytest.mark.parametrize(("bays", "drives"), [(1, 1), (2, 3), (3, 5), (4, 6)])
def test_customary_cages_fit(bays, drives):
    """Common practice, no source: cages hold 3 drives in 2 bays and 5 in 3; with SFF sizes these are the most."""
    adapter = Adapter("cage", "", "5.25", bays, "3.5", drives, 0.0005, 5.0, 50.0)
    check_adapter(adapter)
    assert most_drives("3.5", "5.25", bays) == drives


DEMO_ADAPTERS = yaml.safe_load((Path(__file__).parents[2] / "fixtures" / "catalog" / "adapters.yaml").read_text())


@pytest.mark.parametrize("block", DEMO_ADAPTERS, ids=lambda block: block["code"])
def test_demo_adapter_holds_no_more_than_geometry_allows(block):
    """SFF-8301, SFF-8201 and SFF-8551 sizes."""
    assert 1 <= block["drives"] <= most_drives(block["to_form"], block["from_form"], block["bays"])
