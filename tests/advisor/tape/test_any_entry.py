"""What must hold for any entry that is accepted: sought by hypothesis over sizes, panels, fans, bays and dividers."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from advisor.engine.search.score import score_enclosure
from advisor.tape.block import enclosure_of
from advisor.tape.entering import refusals_of
from advisor.tape.reading import read_tape
from tests.advisor.tape.machines import PLAIN, entered, plain_brief, plain_build
from tests.advisor.tape.strategies import entries, extremes
from tests.engine.test_energy import all_settings, carried_out, fan_watts

IN_DATABASE = [HealthCheck.function_scoped_fixture, HealthCheck.filter_too_much]


@settings(max_examples=200)
@given(st.one_of(entries(), extremes()))
def test_any_entry_becomes_a_block_that_the_catalogue_takes(mapping):
    entry = read_tape(mapping).entry
    assume(entry is not None)
    assert refusals_of(enclosure_of(entry, "by-tape")) == []


JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.text(max_size=8), inner, max_size=4)),
    max_leaves=12,
)
KEYS = ("width_mm", "panels", "fans", "bays", "divider", "supply", "code", "board_forms", "orientations")


@settings(max_examples=300)
@given(st.one_of(JSON, st.dictionaries(st.sampled_from(KEYS), JSON)))
def test_no_body_makes_the_reader_raise(body):
    reading = read_tape(body)
    assert reading.entry is None and reading.problems
    assert all(one.message.isprintable() and one.accepted for one in reading.problems)


@settings(max_examples=25, suppress_health_check=IN_DATABASE)
@given(entries())
@pytest.mark.slow
def test_any_entry_can_be_scored_and_its_heat_closes(db, mapping):
    assume(read_tape(mapping).entry is not None)
    box = entered(mapping)
    outcome = score_enclosure(plain_brief(box), replace(PLAIN, enclosures=(box,)), box)
    assert outcome.considered == outcome.accepted + sum(outcome.rejected.values()) + outcome.pruned
    build = plain_build(box)
    cells, load = all_settings(build)
    put_in = build.case.heat.steady_w[cells.scenario] + (load.drives_w + load.loss_w)[cells.scenario]
    put_in = put_in + fan_watts(build, cells).sum(axis=1)
    np.testing.assert_allclose(carried_out(build, cells, load), put_in, rtol=1e-8)
