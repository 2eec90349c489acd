"""What a layout of drives is worth: capacity, rebuild and risk, in one record for reports."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.engine.inputs import Drive
from advisor.engine.storage import layouts
from advisor.engine.storage.data_loss import loss_within, mttdl_h
from advisor.engine.storage.reliability import (
    HOURS_PER_YEAR,
    REBUILD_SLOWDOWN,
    REPLACEMENT_DELAY_H,
    TEMPERATURE_NOTE,
    loss_in_rebuild,
    mtbf_from_rate,
    read_error_probability,
    rebuild_hours,
)

HORIZON_YEARS = 5.0


@dataclass(frozen=True, slots=True)
class StorageFigures:
    """A layout's figures; capacities in TB (1e12 bytes), times in hours and years, chances from 0 to 1.

    ``loss_in_rebuild`` is the chance of loss once a drive has failed; ``loss_5_years`` that of loss within five years.
    Without redundancy ``rebuild_h`` is None, since nothing can be rebuilt.
    """

    layout: str
    drives: int
    hot_spares: int
    raw_tb: float
    usable_tb: float
    efficiency: float
    failures_tolerated: int
    rebuild_h: float | None
    loss_in_rebuild: float
    mttdl_years: float
    loss_5_years: float
    assumptions: tuple[str, ...]


def storage_figures(code: str, drive: Drive, drives: int, hot_spares: int = 0) -> StorageFigures | None:
    """Return what a layout of equal drives is worth; None for a build without drives.

    Parameters
    ----------
    code : str
        One of ``layouts.LAYOUTS``.
    drive : Drive
    drives : int
        All drives, hot spares included.
    hot_spares : int

    Examples
    --------
    >>> drive = Drive("D", "", "3.5", 8.0, 5.0, 8.0, 2.0, 10.0, 26.0, 29.0, 60.0, 0.01, 1e-15, 8, 200.0, 0.04)
    >>> figures = storage_figures("double_parity", drive, 10)
    >>> figures.usable_tb, round(figures.rebuild_h, 1), f"{figures.loss_in_rebuild:.1e}"
    (64.0, 22.2, '1.9e-04')
    """
    if drives == 0:
        return None
    usable = layouts.usable_capacity_tb(code, drives, drive.capacity_tb, hot_spares)
    tolerated = layouts.failures_tolerated(code, drives, hot_spares)
    members = drives - hot_spares
    pairs = members // 2 if code == "stripe_of_mirrors" else 1
    group = members // pairs
    rebuild = rebuild_hours(drive.capacity_tb, drive.transfer_mb_s)
    repair = rebuild + (0.0 if hot_spares else REPLACEMENT_DELAY_H)
    mirrored = layouts.layout(code).copies != 1
    mtbf = mtbf_from_rate(drive.yearly_failure_rate)
    reads = 1 if mirrored else group - tolerated
    unreadable = read_error_probability(reads * drive.capacity_tb, drive.read_error_rate)
    # Pairs fail independently of each other, so the first loss comes that much sooner.
    mttdl = mttdl_h(group, tolerated, mtbf, repair, unreadable) / pairs
    risk = loss_in_rebuild(
        group,
        tolerated,
        hours=repair,
        mtbf_h=mtbf,
        read_tb_per_drive=drive.capacity_tb,
        read_error_rate=drive.read_error_rate,
        one_source=mirrored,
    )
    return StorageFigures(
        layout=code,
        drives=drives,
        hot_spares=hot_spares,
        raw_tb=drives * drive.capacity_tb,
        usable_tb=usable,
        efficiency=layouts.efficiency(code, drives, hot_spares),
        failures_tolerated=tolerated,
        rebuild_h=rebuild if tolerated else None,
        loss_in_rebuild=risk,
        mttdl_years=mttdl / HOURS_PER_YEAR,
        loss_5_years=loss_within(HORIZON_YEARS, mttdl),
        assumptions=_assumptions(hot_spares),
    )


def _assumptions(hot_spares: int) -> tuple[str, ...]:
    delay = (
        "A hot spare starts its rebuild at once."
        if hot_spares
        else f"A failed drive is replaced within {REPLACEMENT_DELAY_H:.0f} h."
    )
    return (
        "Drives fail independently and at a constant rate, that of their data sheet.",
        f"A rebuild runs at 1/{REBUILD_SLOWDOWN:g} of the drive's own rate while the machine stays in use.",
        delay,
        "One unreadable sector in a rebuild without redundancy counts as loss of data.",
        TEMPERATURE_NOTE,
    )
