"""Where all builds tie: the widest difference, and the measurement that would narrow it most."""

from dataclasses import replace

import numpy as np
import pytest

from advisor.engine.desirability import weights_of
from advisor.engine.record.ties import Tied, measurement, tie_note
from advisor.engine.sampling import sample
from tests.engine.record import found


@pytest.fixture(scope="module")
def tied():
    made = []
    for code in ("mesh_tower", "drive_cube"):
        scored, build = found.best(code)
        drawn = sample(build, np.array(scored.rows), np.array(scored.steps))
        made.append(Tied(code, scored.criteria, found.record(code), drawn))
    return made


def with_criteria(tied, one, other):
    return [replace(tied[0], criteria=one), replace(tied[1], criteria=other)]


def with_draws(tied, **spreads):
    """Draws of both builds that differ by nothing but a spread in the figures named."""
    rng, level = np.random.default_rng(1), {"headroom_k": 5.0, "noise_margin_db": 5.0, "airflow_score": 0.6}
    plain = replace(tied[0].samples, **{name: np.full(256, value) for name, value in level.items()})
    moved = replace(plain, **{name: getattr(plain, name) + rng.normal(0, u, 256) for name, u in spreads.items()})
    return [replace(tied[0], samples=plain), replace(tied[1], samples=moved)]


def test_widest_difference_is_told_with_both_amounts(tied):
    even = dict.fromkeys(tied[0].criteria, 0.5)
    note = tie_note(with_criteria(tied, even, even | {"price": 0.9}), weights_of(found.brief()), "EUR")
    cheap, dear = tied[1].record.price, tied[0].record.price
    assert f"They differ most in price: drive_cube ({cheap:.0f} EUR) against mesh_tower ({dear:.0f} EUR)" in note
    assert "certain" in note


def test_dropped_criterion_decides_nothing(tied):
    even = dict.fromkeys(tied[0].criteria, 0.5)
    weights = weights_of(found.brief(weights={"price": 0.0}))
    note = tie_note(with_criteria(tied, even, even | {"price": 0.9, "noise": 0.6}), weights, "EUR")
    assert "They differ most in noise" in note and "dB below the target" in note


@pytest.mark.parametrize(
    ("spreads", "words"),
    [
        ({"noise_margin_db": 2.0}, "measure the noise of"),
        ({"headroom_k": 2.0}, "measure the"),
        ({"airflow_score": 0.1}, "measure the flow through"),
    ],
)
def test_measurement_is_of_what_spreads_the_difference(tied, spreads, words):
    said = measurement(with_draws(tied, **spreads), weights_of(found.brief()))
    assert words in said
    assert ("noise" in said, "flow" in said) == ("noise_margin_db" in spreads, "airflow_score" in spreads)


def test_what_builds_share_is_not_worth_measuring(tied):
    common = np.random.default_rng(2).normal(5.0, 3.0, 256)
    both = [
        replace(one, samples=replace(one.samples, noise_margin_db=common)) for one in with_draws(tied, headroom_k=0.5)
    ]
    assert "noise" not in measurement(both, weights_of(found.brief()))
