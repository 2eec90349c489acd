"""Openings whose air may as well flow the other way: there linear propagation says too little."""

from __future__ import annotations

import numpy as np

from advisor.engine.case.case import Case
from advisor.engine.judge.cells import Cells

# A flow nearer to zero than this many standard uncertainties is not sure of its direction. Monte Carlo still finds
# intervals 13 % wider than linear ones at 2.4 of them (air in a shaft of drives).
SURE_OF_DIRECTION = 2.5
# Less air than this share of the throughflow is not worth naming.
BREATH_SHARE = 0.01


def unsure_branches(cells: Cells) -> np.ndarray:
    """Return the flags (n, nb) of flows that may as well run the other way and are more than a breath."""
    reach = SURE_OF_DIRECTION * cells.turn_u
    return (np.abs(cells.flows.mass_flow) < reach) & (reach > BREATH_SHARE * cells.quality[:, :1])


def reversal_warnings(case: Case, cells: Cells, row: int) -> tuple[str, ...]:
    """Return a sentence for every opening of a row near which linear intervals are not reliable."""
    network, found = case.plumbing.network, {}
    for b in np.flatnonzero(unsure_branches(cells)[row]):
        code = network.openings[network.opening[b]].code
        flow, u = cells.flows.mass_flow[row, b], cells.turn_u[row, b]
        how = f"{1000 * flow:.2f} ± {1000 * u:.2f} g/s"
        found[code] = f"linear interval not reliable: the air through '{code}' ({how}) may turn round"
    return tuple(found.values())
