"""The few networks whose zone temperatures and flows do not settle by taking turns: a search for their rises alone.

Zones joined by small openings can warm, breathe out, cool and breathe in for ever while temperature and flow follow one
another. Flows at *given* rises always settle, since every law only falls; what is left is to find the rises that their
own flows make. One network after the other is tried at given rises, from several starts: by Newton's method, several
shares of a step side by side, keeping the one that misses least; on every other start by marching in time, as the zones
would warm and cool, which passes the folds at which Newton's method sticks.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from advisor.engine.airflow.response import rise_slopes
from advisor.engine.balance import solve_pivoting

ACCEPTED_RESIDUAL = 1e-9
_RISE_TOLERANCE = 1e-8  # K
_SHARES = np.array([1.0, 0.7, 0.4, 0.2, 0.1, 0.05, 0.02, 0.005])
TRIALS = len(_SHARES)
_NEWTON_ROUNDS, _MARCH_ROUNDS, _STARTS = 40, 300, 100
_LEAST_GAIN = 1e-3
_SHORTER, _LONGER = 0.25, 1.3  # the most by which a step of a march changes
_HIGHEST_START = 1.5  # times the hottest zone seen so far
# What is remembered of a search: network, start, round, size of the last trial, least miss [K], its residual, the
# hottest zone seen, and the step of a march in time constants of a zone.
_NETWORK, _START, _ROUND, _COUNT, _MISS, _RESIDUAL, _HOTTEST, _TIME, _MEMORY = range(9)
# Rows of the best point's zones.
_TAKEN, _MADE, _PRESSURE, _BEST_ROWS = range(4)


@njit(cache=True, nogil=True, error_model="numpy")
def prepare_search(nb, nz):
    """Room for a search (memory, best point's zones and flows) and for a trial.

    A trial is which networks (TRIALS,), flows, pressures, rises to take and then made, residuals, rises taken.
    """
    search = (np.full(_MEMORY, -1.0), np.zeros((_BEST_ROWS, nz)), np.zeros(nb))
    which, left = np.zeros(TRIALS, dtype=np.int64), np.zeros(TRIALS)
    zones = np.zeros((3, TRIALS, nz))
    return search, (which, np.zeros((TRIALS, nb)), zones[0], zones[1], left, zones[2])


@njit(cache=True, nogil=True, error_model="numpy")
def next_trial(coupled, shape, given, search, trial, m_out, p_out, rise_out, residual):
    """Take up what the last trial showed and lay out the next; return how many networks it has, 0 when none is left.

    ``residual`` becomes infinite where nothing helps.
    """
    memory, best, best_flow = search
    which, _, _, rises, _, taken = trial
    k, laid_out = int(memory[_NETWORK]), False
    if k >= 0:
        better = _compare(coupled, search, trial)
        if memory[_MISS] <= _RISE_TOLERANCE:
            m_out[k], p_out[k], rise_out[k], residual[k] = best_flow, best[_PRESSURE], best[_MADE], memory[_RESIDUAL]
        elif better and memory[_ROUND] < (_MARCH_ROUNDS if _marches(memory) else _NEWTON_ROUNDS):
            _go_on(k, shape, given, search, taken)
            laid_out = True
        elif memory[_START] < _STARTS:
            _start_again(memory, taken, rise_out[k])
            laid_out = True
        else:
            residual[k] = np.inf
    if not laid_out:
        k = _next_unsettled(k + 1, m_out, p_out, rise_out, residual)
        if k == len(residual):
            return 0
        memory[:] = 0.0
        memory[_NETWORK], memory[_COUNT], memory[_HOTTEST] = k, 1, max(1.0, rise_out[k].max())
        which[:] = k
        taken[0] = np.maximum(rise_out[k], 0.0) if coupled else np.zeros(taken.shape[1])
    rises[:] = taken
    return int(memory[_COUNT])


@njit(cache=True, nogil=True, error_model="numpy")
def _next_unsettled(k, m_out, p_out, rise_out, residual):
    """Number of the first network from ``k`` on that has not settled; one without finite figures has no answer."""
    while k < len(residual):
        finite = np.isfinite(m_out[k].sum() + p_out[k].sum() + rise_out[k].sum())
        if finite and not residual[k] <= ACCEPTED_RESIDUAL:
            break
        if not finite:
            residual[k] = np.inf
        k += 1
    return k


@njit(cache=True, nogil=True, error_model="numpy")
def _marches(memory):
    """Whether the search from this start is a march."""
    return memory[_START] % 2 == 1


@njit(cache=True, nogil=True, error_model="numpy")
def _compare(coupled, search, trial):
    """Keep the trial's network that misses least, unless Newton's method gains nothing; return whether it was kept."""
    memory, best, best_flow = search
    _, flows, pressures, made, residual, taken = trial
    row, least = 0, np.inf
    for s in range(int(memory[_COUNT])):
        if not coupled:
            made[s] = 0.0
        miss = np.abs(made[s] - taken[s]).max()
        if miss < least:
            row, least = s, miss
    first = memory[_ROUND] == 0
    if not (first or _marches(memory) or least < (1.0 - _LEAST_GAIN) * memory[_MISS]):
        return False
    # a march takes longer steps as it comes to rest; going astray costs it more than it regains, so that it dies down
    memory[_TIME] = 1.0 if first else memory[_TIME] * min(max(memory[_MISS] / least, _SHORTER), _LONGER)
    best[_TAKEN], best[_MADE], best[_PRESSURE], best_flow[:] = taken[row], made[row], pressures[row], flows[row]
    memory[_MISS], memory[_RESIDUAL] = least, residual[row]
    memory[_HOTTEST] = max(memory[_HOTTEST], made[row].max())
    return True


@njit(cache=True, nogil=True, error_model="numpy")
def _go_on(k, shape, given, search, taken):
    """Lay out shares of a Newton step from the best point, or the next implicit step of a march."""
    memory, best, best_flow = search
    nz, marches = taken.shape[1], _marches(memory)
    slopes, step = np.zeros((nz, nz)), best[_MADE] - best[_TAKEN]
    rise_slopes(k, shape, given, best_flow, best[_TAKEN], best[_MADE], slopes)
    if marches:
        for z in range(nz):
            slopes[z, z] += 1.0 / memory[_TIME]
    solve_pivoting(nz, slopes, step)
    memory[_ROUND] += 1
    memory[_COUNT] = 1 if marches else TRIALS
    for s in range(TRIALS):
        for z in range(nz):
            taken[s, z] = max(best[_TAKEN, z] + _SHARES[s] * step[z], 0.0)


@njit(cache=True, nogil=True, error_model="numpy")
def _start_again(memory, taken, last):
    """Lay out the next start: the last rises once more, then points spread evenly.

    These are multiples of powers of a generalised golden ratio (Roberts 2018).
    """
    memory[_START] += 1
    memory[_ROUND], memory[_COUNT], nz, root = 0, 1, taken.shape[1], 2.0
    for _ in range(60):
        root = (1.0 + root) ** (1.0 / (nz + 1))
    for z in range(nz):
        spread = _HIGHEST_START * memory[_HOTTEST] * ((memory[_START] * root ** -(z + 1.0)) % 1.0)
        taken[0, z] = max(last[z], 0.0) if memory[_START] == 1 else spread
