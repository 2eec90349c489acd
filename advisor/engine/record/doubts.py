"""Where figures of a build rest on less than the others do: sentences that stand beside its numbers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from advisor.engine.judge.reversals import unsure_branches
from advisor.engine.record.air import halves
from advisor.engine.record.spot import CODES, Spot


def warnings(spot: Spot) -> tuple[str, ...]:
    """Return sentences on figures of the air, of fans and of sound that rest on less than the others do."""
    listed = [*_unsure(spot), *_stalled(spot), *_beyond_points(spot), *_beyond_readings(spot)]
    still = [code for s, code in enumerate(CODES) if spot.settings.cells.still[spot.rows[s]]]
    if still:
        listed.append(
            f"In {listing(still)} no case fan runs and air moves by its own warmth: the intervals there, made by "
            "linear propagation, are a guide only."
        )
    return tuple(listed)


def listing(words: list[str]) -> str:
    """Join words as a sentence does.

    >>> listing(["idle", "working", "rebuild"])
    'idle, working and rebuild'
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1]))) if words else ""


def _unsure(spot: Spot) -> Iterator[str]:
    """Flows that may as well run the other way and are more than a breath."""
    cells, network, rows = spot.settings.cells, spot.build.case.plumbing.network, list(spot.rows)
    flags = unsure_branches(cells)[rows]
    for b, half in enumerate(halves(spot)):
        code = network.openings[network.opening[b]].code
        flow, u = cells.flows.mass_flow[rows, b], cells.turn_u[rows, b]
        unsure = np.flatnonzero(flags[:, b])
        if len(unsure):
            worst = min(unsure, key=lambda s: abs(flow[s]) / u[s])
            where = f"the {half} half of {code}" if half else code
            yield (
                f"Air through {where} may turn round in {listing([CODES[s] for s in unsure])} "
                f"({1000 * flow[worst]:.2f} ± {1000 * u[worst]:.2f} g/s in {CODES[worst]}): linear propagation makes "
                "the intervals of what it cools too narrow there."
            )


def _stalled(spot: Spot) -> Iterator[str]:
    cells = spot.settings.cells
    for m, (opening, fan) in enumerate(spot.build.fans.mounts):
        found = [s for s in range(len(CODES)) if cells.stalled[spot.rows[s], m]]
        if found:
            rpm = cells.rpm[spot.rows[found[0]], m]
            yield (
                f"{fan.code} at {opening.code} stalls in {listing([CODES[s] for s in found])} (at {rpm:.0f} rpm): it "
                "is taken to be louder and its flow less certain; run it at another speed or open its path."
            )


def _beyond_points(spot: Spot) -> Iterator[str]:
    """Fans whose curve had to be continued outside its measured points."""
    cells, density = spot.settings.cells, spot.build.case.room.density
    for m, (opening, fan) in enumerate(spot.build.fans.mounts):
        branch, curve, _ = cells.movers.by_mount[m]
        count, ratio = cells.movers.scale[branch], cells.movers.ratio[branch]
        found = []
        for s in range(len(CODES)):
            k = spot.rows[s]
            speed = cells.rpm[k, m] * ratio
            own = cells.flows.mass_flow[k, branch] / (density[s] * count * speed) if speed > 0 else 0.0
            if own > curve.end or own < curve.starts[0]:
                found.append((s, own))
        if found:
            where, rpm = listing([CODES[s] for s, _ in found]), fan.curve.speed_rpm
            low, own, high = (3600 * flow for flow in (curve.starts[0], found[0][1], curve.end))
            yield (
                f"{fan.code} at {opening.code} works outside its measured curve in {where} ({own:.0f} m3/h at "
                f"{rpm:.0f} rpm, measured from {low:.0f} to {high:.0f}): the curve is extrapolated there."
            )


def _beyond_readings(spot: Spot) -> Iterator[str]:
    cells, cooler = spot.settings.cells, spot.build.cooler
    runs = [
        (f"{fan.code} at {opening.code}", fan.sound, [float(cells.rpm[k, m]) for k in spot.rows])
        for m, (opening, fan) in enumerate(spot.build.fans.mounts)
    ]
    if cooler.max_rpm > 0:
        runs.append((cooler.code, cooler.sound, [float(spot.cooler_steps.rpm[c, 0]) for c in spot.steps]))
    for name, sound, speeds in runs:
        low, high = sound[0][0], sound[-1][0]
        outside = [rpm for rpm in speeds if rpm > 0 and not 0.999 * low <= rpm <= 1.001 * high]
        if outside:
            at = listing([f"{rpm:.0f}" for rpm in sorted(set(outside))])
            yield (
                f"The sound of {name} at {at} rpm is extrapolated from readings at {low:.0f} to {high:.0f} rpm, with a "
                "wider interval."
            )
