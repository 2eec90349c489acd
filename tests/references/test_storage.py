"""Storage reliability against published figures, with the source beside each."""

import pytest

from advisor.engine.storage.data_loss import loss_within, mttdl_first_order_h, mttdl_h
from advisor.engine.storage.reliability import mtbf_from_rate, rate_from_mtbf, read_error_probability

HOURS_PER_YEAR = 8760.0


def group_mttdl_h(data_drives, group, check, repair_h=1.0, mtbf_h=30_000.0):
    """Mean time to loss of the groups that hold the data drives, each of ``group`` data and ``check`` other drives."""
    return mttdl_first_order_h(group + check, 1, mtbf_h, repair_h) / (data_drives / group)


@pytest.mark.parametrize(
    ("group", "check", "printed"),
    [
        pytest.param(1, 1, 4_500_000, id="level_1"),
        pytest.param(10, 1, 818_182, id="levels_3_to_5_ten"),
        pytest.param(25, 1, 346_154, id="levels_3_to_5_twenty_five"),
        pytest.param(10, 4, 494_505, id="level_2_ten"),
    ],
)
def test_hundred_data_drives_in_groups(group, check, printed):
    """Patterson, Gibson & Katz, SIGMOD 1988, from memory: 100 data drives, 30,000 h, 1 h to repair."""
    assert group_mttdl_h(100, group, check) == pytest.approx(printed, abs=0.5)


def test_hundred_drives_without_redundancy():
    """Patterson, Gibson & Katz, SIGMOD 1988, from memory: 300 h, 12.5 days."""
    assert mttdl_h(100, 0, 30_000.0, 1.0) == pytest.approx(300.0)


@pytest.mark.parametrize(
    ("group", "later_h", "years", "ten_years"),
    [(16, 20_000.0, 285, 0.034), (8, 20_000.0, 571, 0.017)],
)
def test_correlated_second_failure(group, later_h, years, ten_years):
    """Chen, Lee, Gibson, Katz & Patterson 1994, section 3.4.5, as recalculated on a mailing list in January 2005."""
    groups = 100.0 / (group - 1)
    found = mttdl_first_order_h(group, 1, 200_000.0, 1.0, later_mtbf_h=later_h) / groups
    assert found / HOURS_PER_YEAR == pytest.approx(years, abs=0.5)
    assert loss_within(10.0, found) == pytest.approx(ten_years, abs=0.0005)


def test_unreadable_sector_after_a_failure():
    """Same section: groups of 8, a failed drive and an unreadable bit: 71 years, 13.1 % in ten.

    Drives of 5 GB and one error in 1e14 bits are from memory; further failures are left out, as there.
    """
    unreadable = read_error_probability(7 * 0.005, 1e-14)
    found = mttdl_h(8, 1, 200_000.0, 1.0, unreadable, later_mtbf_h=1e15) / (100.0 / 7.0)
    assert found / HOURS_PER_YEAR == pytest.approx(71.5, abs=0.1)
    assert loss_within(10.0, found) == pytest.approx(0.131, abs=0.0005)


def test_single_parity_with_independent_failures():
    """Chen et al. 1994, from memory: 100 drives in groups of 16, 200,000 h, 1 h: about 3000 years."""
    found = mttdl_first_order_h(16, 1, 200_000.0, 1.0) / (100.0 / 16.0)
    assert found == pytest.approx(2.6667e7, rel=1e-4)
    assert found / HOURS_PER_YEAR == pytest.approx(3044, rel=0.01)


def test_double_parity_with_independent_failures():
    """Chen et al. 1994, formula from memory: the same with double parity, 3.8095e11 h."""
    assert mttdl_first_order_h(16, 2, 200_000.0, 1.0) / (100.0 / 16.0) == pytest.approx(3.8095e11, rel=1e-4)


def test_modern_group_of_five():
    """Closed forms of the chains: five drives, 1e6 h, 24 h; single parity first order and exact, double parity."""
    assert mttdl_first_order_h(5, 1, 1e6, 24.0) / HOURS_PER_YEAR == pytest.approx(237_823.44, rel=1e-6)
    assert mttdl_h(5, 1, 1e6, 24.0) / HOURS_PER_YEAR == pytest.approx(237_874.81, rel=1e-6)
    assert mttdl_first_order_h(5, 2, 1e6, 24.0) / HOURS_PER_YEAR == pytest.approx(3.303103e9, rel=1e-6)


def test_two_drives_in_parallel_with_repair():
    """A public homework dataset: MTTF^2 / (2 MTTR) for 6e6 h and 120 h is 1.5e11 h."""
    assert mttdl_first_order_h(2, 1, 6e6, 120.0) == pytest.approx(1.5e11)


@pytest.mark.parametrize(
    ("read_tb", "rate", "expected"),
    [
        *zip(
            (1, 2, 4, 8, 10, 12, 12.5, 16, 20),
            [1e-14] * 9,
            (0.0768837, 0.1478562, 0.2738510, 0.4727076, 0.5506710, 0.6171071, 0.6321206, 0.7219627, 0.7981035),
            strict=True,
        ),
        *zip(
            (1, 4, 10, 12.5, 20),
            [1e-15] * 5,
            (0.0079681, 0.0314934, 0.0768837, 0.0951626, 0.1478562),
            strict=True,
        ),
    ],
)
def test_chance_of_an_unreadable_sector(read_tb, rate, expected):
    """Definition, 1 - (1 - e)^bits; 12.5 TB are 1e14 bits, so 1 - 1/e at 1e-14."""
    assert read_error_probability(read_tb, rate) == pytest.approx(expected, abs=1e-7)


@pytest.mark.parametrize(("mtbf_h", "rate"), [(1e6, 0.0087217), (1.2e6, 0.0072734), (2.5e6, 0.0034979)])
def test_yearly_failure_rate(mtbf_h, rate):
    """A reliability note: AFR = 1 - exp(-8760/MTBF)."""
    assert rate_from_mtbf(mtbf_h) == pytest.approx(rate, abs=1e-7)
    assert mtbf_from_rate(rate) == pytest.approx(mtbf_h, rel=1e-4)
