"""Standard normal draws by the name of what is uncertain, so that candidates share those of what they share."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from statistics import NormalDist

import numpy as np


class NamedDraws:
    """``count`` standard normal draws for every name; equal seeds and names give equal draws, others independent ones.

    Draws are stratified (one in each of ``count`` equal parts of the distribution, in shuffled order), so that few of
    them give means and spreads well. Source: McKay, Beckman & Conover 1979, Latin hypercube sampling.

    >>> draws = NamedDraws(256, seed=1)
    >>> draws["fan/a/flow"] is draws["fan/a/flow"], bool(np.array_equal(draws["fan/a/flow"], draws["fan/b/flow"]))
    (True, False)
    """

    def __init__(self, count: int, seed: int) -> None:
        self.count = count
        self.seed = seed
        self._known: dict[str, np.ndarray] = {}

    def __getitem__(self, name: str) -> np.ndarray:
        """Return the draws (count,) of a name."""
        if name not in self._known:
            self._known[name] = self._drawn(name)
        return self._known[name]

    @property
    def names(self) -> tuple[str, ...]:
        """Names asked for so far."""
        return tuple(self._known)

    def _drawn(self, name: str) -> np.ndarray:
        return _shared_draws(self.count, self.seed, name)


@lru_cache(maxsize=4096)
def _shared_draws(count: int, seed: int, name: str) -> np.ndarray:
    """Draw for a name, once for all builds that share it."""
    number = int.from_bytes(hashlib.sha256(name.encode()).digest()[:8], "big")
    generator = np.random.default_rng((seed, number))
    shares = (generator.permutation(count) + generator.random(count)) / count
    quantile = NormalDist().inv_cdf  # plain floats, but scipy's takes longer to import than all draws of a study
    drawn = np.array([quantile(share) for share in shares.tolist()])
    drawn.setflags(write=False)
    return drawn
