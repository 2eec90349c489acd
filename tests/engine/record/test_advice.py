"""Each sentence of advice has a figure, names a part, and its promise holds when computed again."""

import re
from dataclasses import replace

import pytest

from advisor.engine.case.components import LIMITS
from advisor.engine.desirability import weights_of
from advisor.engine.noise.levels import level
from advisor.engine.record.advice import COOLING_HINT, best_step, loudest, nearest_limit, percent, reasons, steps_up
from advisor.engine.record.ranking import against, costs
from advisor.engine.record.records import ROLE_WORDS
from advisor.engine.record.spot import CODES, GROUPS
from tests.engine.record import found

BOXES = [box.code for box in found.catalogue().enclosures]


def told(code="mesh_tower"):
    return found.record(code).reasons


@pytest.mark.parametrize("code", BOXES)
def test_every_sentence_has_a_figure_and_ends(code):
    assert len(told(code)) >= 4
    for sentence in told(code):
        assert re.search(r"\d", sentence)
        assert sentence.endswith(".")


@pytest.mark.parametrize("code", BOXES)
def test_nearest_limit_is_that_of_least_headroom(code):
    record = found.record(code)
    s, part = nearest_limit(record)
    assert part.headroom_k == record.headroom_k
    assert f"{part.words} in {CODES[s]}" in told(code)[0]
    assert f"{part.temperature_c.value:.1f} ± {part.temperature_c.standard_uncertainty:.1f} °C" in told(code)[0]


@pytest.mark.parametrize("role", ROLE_WORDS)
def test_each_binding_limit_has_a_figure_its_part_and_what_to_do(role):
    spot, record = found.with_every_part()
    known = record.predictions["full_load"].warmest(role)
    hot = replace(record.predictions["full_load"], temperatures=(replace(known, headroom_k=-999.0),))
    said = next(reasons(spot, replace(record, predictions={**record.predictions, "full_load": hot}), {}, {}))
    t, drive = known.temperature_c, spot.build.drive.code
    assert said.startswith(f"Nearest limit: {known.words} in full_load, ")
    assert f"{t.value:.1f} ± {t.standard_uncertainty:.1f} °C of {known.limit_c:g} °C, 999.0 K too much" in said
    hint = COOLING_HINT[role].format(cooler=spot.build.cooler.code, place=known.place, drive=drive)
    assert f"take {hint}." in said or f"what helps is {hint}." in said


def test_every_limit_has_a_hint_and_a_name():
    assert set(COOLING_HINT) == set(ROLE_WORDS) == set(LIMITS)


def test_promised_kelvins_and_decibels_come_true_at_the_next_step():
    spot = found.switched()
    for step in steps_up(spot, 2, "processor"):
        axis = GROUPS.index(step.group)
        i, e, c = (at + (axis == n) for n, at in enumerate(spot.place(2)))
        here, there = spot.rows[2], spot.row(2, i, e)
        slack, energy = spot.settings.slack, spot.settings.energy
        assert step.kelvin == pytest.approx(slack[there, c, 0] - slack[here, spot.steps[2], 0])
        assert step.decibel == pytest.approx(level(energy[there, c]) - level(energy[here, spot.steps[2]]))
        assert step.speed_rpm == spot.speeds(2, i, e, c)[step.group].speed_rpm


def test_step_that_cools_nothing_is_not_advised():
    assert best_step([]) is None
    steps = steps_up(found.switched(), 2, "processor")
    assert best_step(steps).kelvin > 0.05


def test_loudest_source_is_the_one_with_most_energy():
    record = found.record()
    code, noise = loudest(record)
    assert noise.noise_dba.value == max(record.predictions[s].noise.noise_dba.value for s in ("idle", "working"))
    shares = {}
    for one in noise.contributions:
        shares[one.source] = shares.get(one.source, 0.0) + 10 ** (one.level_dba / 10)
    top = max(shares, key=shares.get)
    assert told()[1].startswith(f"Loudest in {code}: {top} ({noise.parts[top]})")


def test_a_missed_target_is_told_as_missed():
    record = found.describe_with_target(5.0)
    assert f"missed by {-record.noise_margin_db:.1f} dB" in record.reasons[2]
    assert "under 1 %" in record.reasons[2]


def test_a_doubtful_target_asks_for_a_measurement():
    noise = loudest(found.record())[1].noise_dba
    record = found.describe_with_target(noise.value + 0.2 * noise.standard_uncertainty)
    assert "measure mesh_tower with these fans first" in record.reasons[2]


def test_a_switch_is_told_where_to_stand():
    from advisor.engine.record.describe import describe

    spot = found.switched()
    record = describe(spot.build, spot.rows, spot.steps, found.catalogue())
    assert "The exhaust has a switch: set turn to 700 rpm and leave it there in all scenarios." in record.reasons


def test_costliest_criterion_is_named():
    scored, record = found.best()[0], found.record()
    by_name = costs(scored.criteria, weights_of(found.brief()))
    worst = max(by_name, key=by_name.get)
    assert (
        f"What costs it most in the ranking is {worst} (desirability {scored.criteria[worst]:.2f}" in record.reasons[-1]
    )


@pytest.mark.parametrize("worst", ["noise", "headroom", "airflow", "bays", "service", "price"])
def test_each_criterion_has_words_and_a_figure(worst):
    criteria = dict.fromkeys(found.best()[0].criteria, 0.9) | {worst: 0.05}
    said = list(reasons(found.spot(), found.record(), criteria, weights_of(found.brief())))[-1]
    assert f"is {worst} (desirability 0.05" in said
    assert re.search(r"\d", said.split(":", 1)[1])


def test_costs_of_criteria_sum_to_the_logarithm_of_desirability():
    import math

    scored = found.best()[0]
    assert sum(costs(scored.criteria, weights_of(found.brief())).values()) == pytest.approx(
        -math.log(scored.desirability)
    )


def test_like_builds_differ_in_no_criterion():
    one = found.best()[0].criteria
    assert against("twin", one, one, weights_of(found.brief())) == "Against twin it differs in no criterion."


@pytest.mark.parametrize(("chance", "words"), [(0.5, "50 %"), (0.995, "over 99 %"), (0.001, "under 1 %")])
def test_no_chance_is_told_as_certain(chance, words):
    assert percent(chance) == words
