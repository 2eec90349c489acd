"""Charts of a fan show what was measured, and follow the fan laws to other speeds."""

import re

import pytest

from advisor.engine.curves import FanCurve
from frontend.pictures.curve import Blower, noise_chart, of_fan, pressure_chart, shown_speeds
from tests.engine import builds

POINTS = ((0.0, 40.0), (0.01, 34.0), (0.02, 25.0), (0.03, 12.0), (0.036, 0.0))
SOUND = ((600.0, 14.0), (1200.0, 29.0))


def blower(**changes):
    known = {
        "name": "Fan",
        "curve": FanCurve(POINTS, 1200.0),
        "flow_u_rel": 0.05,
        "slowest_rpm": 400.0,
        "full_rpm": 1200.0,
        "steps_rpm": (),
        "sound": SOUND,
        "sound_u_db": 1.0,
    }
    return Blower(**(known | changes))


def ends(path):
    """First and last point of a path."""
    numbers = [float(one) for one in re.findall(r"-?[\d.]+(?:e-?\d+)?", path)]
    return numbers[:2], numbers[-2:]


def test_measured_points_lie_on_the_axes_scales():
    chart = pressure_chart(blower())
    axes = chart.frame
    assert chart.points[0] == (axes.across.at(0.0), axes.up.at(40.0))
    assert chart.points[2] == (axes.across.at(72.0), axes.up.at(25.0))
    assert chart.rows[2] == ("72\u202fm³/h", "25\u202fPa")


def test_flow_goes_with_speed_and_pressure_with_its_square():
    """Fan laws (AMCA 211): at two thirds of the speed, two thirds of the flow and four ninths of the pressure."""
    chart = pressure_chart(blower(steps_rpm=(800.0,)))
    axes = chart.frame
    (start, end) = ends(next(line.path for line in chart.lines if line.kind == "scaled"))
    assert start == pytest.approx(axes.at((0.0, 40.0 * 4 / 9)), abs=0.01)
    assert end == pytest.approx(axes.at((0.036 * 3600 * 2 / 3, 0.0)), abs=0.1)


def test_every_speed_has_its_word_and_none_lies_on_another():
    chart = pressure_chart(blower())
    words = [line.word for line in chart.lines if line.word]
    assert {word.text for word in words} == {f"{rpm}\u202frpm" for rpm in ("400", "667", "933", "1\u202f200")}
    assert not any(a.box.overlaps(b.box) for n, a in enumerate(words) for b in words[:n])


def test_what_nobody_measured_is_drawn_apart_and_said():
    chart = pressure_chart(blower(curve=FanCurve(POINTS[:4], 1200.0)))
    assert "Beyond 108\u202fm³/h nothing was measured." in chart.description
    assert [line.kind for line in chart.lines].count("beyond") == 1
    assert "beyond" not in [line.kind for line in pressure_chart(blower()).lines]


def test_a_stall_is_said():
    dip = ((0.0, 40.0), (0.01, 30.0), (0.02, 33.0), (0.03, 0.0))
    assert "Below 72\u202fm³/h the fan may stall." in pressure_chart(blower(curve=FanCurve(dip, 1200.0))).description


def test_noise_passes_through_its_readings():
    chart = noise_chart(blower())
    axes = chart.frame
    assert chart.points == (axes.at(SOUND[0]), axes.at(SOUND[1]))
    assert ends(chart.lines[0].path)[1] == pytest.approx(axes.at(SOUND[1]), abs=0.01)


def test_a_switch_shows_its_own_speeds():
    assert shown_speeds(blower(steps_rpm=(500.0, 900.0, 1200.0))) == [500.0, 900.0]


def test_a_fan_of_one_speed_can_be_drawn():
    picture = of_fan(builds.fan(0.12, min_rpm=1200.0, max_rpm=1200.0))
    assert picture.pressure.rows and picture.noise.rows
