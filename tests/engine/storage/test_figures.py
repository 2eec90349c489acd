"""The record of a layout's figures."""

import pytest

from advisor.engine.storage.data_loss import loss_within, mttdl_h
from advisor.engine.storage.figures import storage_figures
from advisor.engine.storage.reliability import (
    REPLACEMENT_DELAY_H,
    TEMPERATURE_NOTE,
    mtbf_from_rate,
    read_error_probability,
    rebuild_hours,
)
from tests.engine.make_parts import make_drive

DRIVE = make_drive()


def test_double_parity_of_ten_drives():
    figures = storage_figures("double_parity", DRIVE, 10)
    assert (figures.raw_tb, figures.usable_tb, figures.efficiency, figures.failures_tolerated) == (80.0, 64.0, 0.8, 2)


def test_mean_time_counts_replacement_and_unreadable_sectors():
    repair = rebuild_hours(8.0, 200.0) + REPLACEMENT_DELAY_H
    unreadable = read_error_probability(8 * 8.0, 1e-15)
    expected = mttdl_h(10, 2, mtbf_from_rate(0.01), repair, unreadable)
    assert storage_figures("double_parity", DRIVE, 10).mttdl_years == pytest.approx(expected / 8760.0)


def test_hot_spare_saves_the_wait():
    assert (
        storage_figures("double_parity", DRIVE, 11, 1).mttdl_years
        > storage_figures("double_parity", DRIVE, 10).mttdl_years
    )


def test_pairs_lose_data_as_the_first_of_them():
    pair, four_pairs = storage_figures("mirror", DRIVE, 2), storage_figures("stripe_of_mirrors", DRIVE, 8)
    assert four_pairs.mttdl_years == pytest.approx(pair.mttdl_years / 4)
    assert four_pairs.loss_in_rebuild == pytest.approx(pair.loss_in_rebuild)


def test_single_drives_have_nothing_to_rebuild():
    figures = storage_figures("none", DRIVE, 4)
    assert (figures.rebuild_h, figures.loss_in_rebuild) == (None, 1.0)
    assert figures.mttdl_years == pytest.approx(mtbf_from_rate(0.01) / 4 / 8760.0)


def test_loss_in_five_years_follows_the_mean_time():
    figures = storage_figures("single_parity", DRIVE, 5)
    assert figures.loss_5_years == pytest.approx(loss_within(5.0, figures.mttdl_years * 8760.0))


def test_assumptions_are_told_with_the_figures():
    assert (
        f"A failed drive is replaced within {REPLACEMENT_DELAY_H:.0f} h."
        in storage_figures("mirror", DRIVE, 2).assumptions
    )
    spared = storage_figures("mirror", DRIVE, 3, 1).assumptions
    assert "A hot spare starts its rebuild at once." in spared
    assert TEMPERATURE_NOTE in spared


def test_machine_without_drives_has_no_figures():
    assert storage_figures("none", DRIVE, 0) is None
