"""Draws of builds: what is shared, what is drawn, and what differences can be told from none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from advisor.engine import sampling
from advisor.engine.case.sound import SEATED
from advisor.engine.curves import FanCurve
from advisor.engine.desirability import combine, ramp, ramps, weights_of
from advisor.engine.judge.cells import row_sigma
from advisor.engine.judge.named_draws import NamedDraws
from advisor.engine.noise.breakdown import Source, breakdown
from advisor.engine.noise.levels import equal_sources
from advisor.engine.noise.sources import density_term, level_by_share, sound_power, sound_power_uncertainty
from advisor.engine.pipeline import Build, load_of, settings_of
from advisor.engine.power.supply import load_share
from advisor.engine.sampling import Interval, difference, sample
from tests.engine import builds
from tests.engine.builds import brief_of, build_of, fan, fans_of, make_cooler, make_drive, rows_at, temperatures

STEPS = np.full(5, 4)
FIXED = {"bays": 0.5, "service": 0.7, "price": 0.6}


def tower(**parts) -> Build:
    return build_of(builds.mesh_tower(), brief_of(3), **parts)


def rows(build: Build, step: int = 5) -> np.ndarray:
    return rows_at(build, step, step)


class NoDraws(NamedDraws):
    """Every draw at the best estimate."""

    def _drawn(self, name: str) -> np.ndarray:
        return np.zeros(self.count)


def test_equal_names_and_seeds_give_equal_draws():
    one, other = NamedDraws(64, 1), NamedDraws(64, 1)
    assert np.array_equal(one["fan/a/flow"], other["fan/a/flow"])
    assert not np.array_equal(one["fan/a/flow"], NamedDraws(64, 2)["fan/a/flow"])


def test_draws_of_different_names_are_uncorrelated_and_standard():
    draws = NamedDraws(4096, 3)
    table = np.array([draws[f"name-{k}"] for k in range(12)])
    off = np.corrcoef(table) - np.eye(12)
    assert np.abs(off).max() < 5 / np.sqrt(4096)
    np.testing.assert_allclose(table.mean(axis=1), 0, atol=2e-3)
    np.testing.assert_allclose(table.std(axis=1), 1, atol=5e-3)


def test_draws_at_the_best_estimate_are_what_the_pipeline_says(monkeypatch):
    monkeypatch.setattr(sampling, "NamedDraws", NoDraws)
    build = tower()
    judged, chosen = settings_of(build), rows(build)
    drawn = sample(build, chosen, STEPS, count=3)
    hot, _, _ = temperatures(build, chosen)
    np.testing.assert_allclose(drawn.temperature_c, np.broadcast_to(hot, drawn.temperature_c.shape), atol=1e-6)
    np.testing.assert_allclose(drawn.headroom_k, judged.slack[chosen, STEPS].min(), atol=1e-6)
    np.testing.assert_allclose(drawn.noise_dba[0], 10 * np.log10(judged.energy[chosen, STEPS]), atol=1e-9)
    np.testing.assert_allclose(drawn.airflow[0], judged.airflow[chosen], atol=1e-9)
    noisy = [0, 1]  # idle and working, where a brief says nothing else
    np.testing.assert_allclose(drawn.noise_margin_db, 34.0 - drawn.noise_dba[0, noisy].max(), atol=1e-9)


def test_the_middle_of_the_draws_is_near_the_best_estimate():
    build = tower()
    hot, u, _ = temperatures(build, rows(build))
    middle = np.median(sample(build, rows(build), STEPS).temperature_c, axis=0)
    assert np.all(np.abs(middle - hot) < 0.3 * u)


def test_builds_share_the_draws_of_what_they_share_and_of_nothing_else():
    one, other = tower(), tower(cooler=make_cooler(code="other"), drive=make_drive(code="other"))
    first, second = (set(sample(build, rows(build), STEPS, count=2).parameters) for build in (one, other))
    for name in first ^ second:
        assert name.startswith(("cooler/", "drive/", "sound/", "model/mesh_tower/front=")), name
    both = first & second
    assert {"fan/fan-140/flow", "mesh_tower/front/area", "model/mesh_tower/k", "supply/supply/loss"} <= both
    assert {"brief/processor_heat", "room/absorption", "mesh_tower/preheat/graphics", "model/drive_film"} <= both


def test_an_enclosures_own_parameters_are_not_those_of_another():
    cube = build_of(builds.drive_cube(), brief_of(3))
    first = set(sample(tower(), rows(tower()), STEPS, count=2).parameters)
    second = set(sample(cube, rows(cube), STEPS, count=2).parameters)
    shared = ("brief/", "fan/", "air_path/", "supply/", "drive/", "cooler/", "graphics/", "part/", "sound/", "room/")
    assert all(name.startswith((*shared, "model/drive_film")) for name in first & second)


def test_a_build_never_differs_from_itself():
    build = tower()
    drawn = sample(build, rows(build), STEPS)
    same = difference(drawn, sample(build, rows(build), STEPS), FIXED, FIXED, weights_of(build.case.brief))
    assert (same.low, same.high, same.resolved) == (0.0, 0.0, False)


def test_a_clear_difference_is_resolved_and_turns_with_its_order():
    build = tower()
    weights = weights_of(build.case.brief)
    quiet, loud = (sample(build, rows(build, step), STEPS) for step in (1, 8))
    dear, cheap = {**FIXED, "price": 0.1}, {**FIXED, "price": 0.9}
    found = difference(quiet, quiet, dear, cheap, weights)
    assert found.high < 0 and found.resolved
    one, other = difference(quiet, loud, FIXED, FIXED, weights), difference(loud, quiet, FIXED, FIXED, weights)
    assert one.low == pytest.approx(-other.high) and one.high == pytest.approx(-other.low)


def test_an_interval_around_none_is_not_resolved():
    assert not Interval(-0.1, 0.2).resolved
    assert Interval(0.01, 0.2).resolved
    assert Interval(-0.2, -0.01).resolved


def test_common_draws_tell_apart_what_separate_draws_cannot():
    weights = {"headroom": 1.0}
    cool = brief_of(3, limit_processor_c=92.0, limit_graphics_c=95.0, limit_drive_c=60.0)
    plain = build_of(builds.drive_cube(), cool)
    better = replace(plain, cooler=make_cooler(code="cooler", r_air_k_w=0.07))
    chosen = rows(plain, 7)
    one, other = sample(better, chosen, STEPS), sample(plain, chosen, STEPS)
    apart = sample(plain, chosen, STEPS, seed=99)
    common, separate = difference(one, other, {}, {}, weights), difference(one, apart, {}, {}, weights)
    assert separate.high - separate.low > 0.1
    assert common.high - common.low < 0.7 * (separate.high - separate.low)


def test_a_stalling_fan_is_drawn_with_twice_the_uncertainty():
    dip = FanCurve(((0.0, 13.0), (0.012, 8.0), (0.018, 9.5), (0.036, 0.0)), 1200.0)
    stalling = fan(0.14, "dipping", curve=dip)
    box = builds.mesh_tower()
    build = build_of(box, brief_of(3), fans_of(box, {0.14: stalling}, {}))
    chosen = rows(build, 0)
    _, _, cells = temperatures(build, chosen)
    assert cells.stalled[chosen].any()
    number = cells.movers.parameters.names.index("fan/dipping/flow")
    sigma = row_sigma(cells.movers, cells.stalled[chosen])[:, number]
    expected = np.where(cells.stalled[chosen].any(axis=1), 2 * stalling.flow_u_rel, stalling.flow_u_rel)
    np.testing.assert_allclose(sigma, expected)


def sources(build: Build, chosen: np.ndarray, s: int) -> list[Source]:
    """What sounds in a scenario, laid out by hand."""
    case, load = build.case, load_of(build.case, build.supply, build.drive)
    _, _, cells = temperatures(build, chosen)
    louder = float(density_term(case.room.density[s]))
    found = []
    for k, (mount, model) in enumerate(build.fans.mounts):
        rpm = cells.rpm[chosen[s], k]
        power = equal_sources(float(sound_power(rpm, model.sound)) + mount.obstruction_db + louder, mount.fan_count)
        u = float(sound_power_uncertainty(rpm, model.sound, model.sound_u_db))
        found.append(Source(mount.code, float(power), u, case.paths[mount.code], model.code))
    cooler = build.cooler
    rpm = np.linspace(cooler.min_rpm, cooler.max_rpm, 9)[4]
    u = float(sound_power_uncertainty(rpm, cooler.sound, cooler.sound_u_db))
    power = float(sound_power(rpm, cooler.sound)) + louder
    found.append(Source("cooler", power, u, case.paths[SEATED["processor"]], cooler.code))
    share = float(load_share(build.supply, load.dc_w[s]))
    power = float(level_by_share(build.supply.sound, share))
    found.append(Source("supply", power, build.supply.sound_u_db, case.paths[SEATED["supply"]], build.supply.code))
    drive, graphics = build.drive, case.named.graphics
    power = float(equal_sources((drive.idle_sound_db, 10 * np.log10(0.5 * 10 ** (drive.idle_sound_db / 10)
        + 0.5 * 10 ** (drive.seek_sound_db / 10)))[s], case.drive_count))  # fmt: skip
    found.append(Source("drives", power, drive.sound_u_db, case.paths[SEATED["drives"]], drive.code))
    power = float(level_by_share(graphics.sound, (0.08, 0.5)[s]))
    found.append(Source("graphics", power, graphics.sound_u_db, case.paths[SEATED["graphics"]], graphics.code))
    return found


@pytest.mark.parametrize("scenario", [0, 1])
def test_drawn_levels_spread_as_the_breakdown_says(scenario):
    build = tower()
    chosen = rows(build)
    said = breakdown(
        sources(build, chosen, scenario), insertion_loss_u_db=build.case.enclosure.insertion_loss_u, background_dba=25.0
    )
    levels = sample(build, chosen, STEPS, count=5000).noise_dba[:, scenario]
    low, high = np.quantile(levels, (0.1586552539, 0.8413447461))
    assert (high - low) / 2 == pytest.approx(said.standard_uncertainty_db, rel=0.1)
    assert np.median(levels) == pytest.approx(said.level_dba, abs=0.3 * said.standard_uncertainty_db)


def test_drawn_criteria_combine_as_the_desirabilities_of_numbers():
    drawn = sample(tower(), rows(tower()), STEPS, count=8)
    by_hand = [ramp(v, 0.0, 15.0) for v in drawn.headroom_k]
    np.testing.assert_allclose(drawn.criteria()["headroom"], by_hand)
    np.testing.assert_allclose(
        ramps(np.array([-1.0, 7.5, 99.0]), (0.0, 15.0)), [ramp(v, 0, 15.0) for v in (-1.0, 7.5, 99.0)]
    )
    whole = combine({**FIXED, **drawn.criteria()}, weights_of(tower().case.brief))
    assert whole.shape == (8,) and np.all((whole > 0.02) & (whole <= 1))
