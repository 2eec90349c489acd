"""What more holes, finer filters, thicker panels and larger boxes do: never the wrong way."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.engine.pipeline import shared_air, solve_air
from tests.advisor.tape.machines import derived, entered, plain_build
from tests.engine.builds import rows_at

SIZE = {"width_mm": 220.0, "height_mm": 460.0, "depth_mm": 440.0}
FANS = [{"face": "front", "size_mm": 120, "count": 2}, {"face": "rear", "size_mm": 120}]
IN_DATABASE = [HealthCheck.function_scoped_fixture]


def entry(**changes) -> dict:
    return {**SIZE, "fans": FANS, "bays": [{"count": 2}], **changes}


def figures(mapping: dict) -> dict[str, float]:
    return {line.figure: line.value for line in derived(mapping).derived}


def intake_flow(mapping: dict) -> np.ndarray:
    """Air through the front fans at their middle step in every scenario [kg/s]."""
    build = plain_build(entered(mapping))
    cells = solve_air(build.case, build.fans, shared_air(build.case, build.supply, build.drive))
    (branch,) = build.case.plumbing.network.branches_of("front_fans")
    return cells.flows.mass_flow[rows_at(build, 4, 4), branch]


@settings(max_examples=8, suppress_health_check=IN_DATABASE)
@given(st.floats(0.02, 0.9), st.floats(0.01, 0.5))
@pytest.mark.slow
def test_more_holes_never_give_less_air(db, share, more):
    few, many = (intake_flow(entry(panels={"front": {"holes_share": one}})) for one in (share, min(share + more, 0.95)))
    assert np.all(many >= few * (1 - 1e-9))


def test_finer_filters_never_give_more_air(db):
    flows = [
        intake_flow(entry(panels={"front": {"holes_share": 0.5, "filter": one}}))
        for one in ("none", "coarse", "medium", "fine")
    ]
    for open_one, finer in zip(flows, flows[1:], strict=False):
        assert np.all(finer < open_one)


def test_wider_gap_behind_a_closed_front_gives_more_air(db):
    flows = [intake_flow(entry(panels={"front": {"gap_mm": gap}})) for gap in (3.0, 8.0, 20.0)]
    assert np.all(flows[0] < flows[1]) and np.all(flows[1] < flows[2])


def test_taller_feet_give_more_air_from_below():
    fans = [{"face": "bottom", "size_mm": 140, "count": 2}]
    losses = []
    for feet in (5.0, 15.0, 40.0):
        known = figures(entry(fans=fans, feet_mm=feet))
        key = "openings.bottom_fans"
        losses.append(known[f"{key}.loss_coefficient"] / known[f"{key}.area_cm2"] ** 2)
    assert losses == sorted(losses, reverse=True)


@settings(max_examples=60)
@given(st.floats(0.02, 0.9), st.floats(0.01, 0.5), st.floats(0.5, 20))
def test_insertion_loss_never_rises_with_open_area(share, more, hole_mm):
    losses = [
        figures(entry(panels={"front": {"holes_share": one, "hole_mm": hole_mm}}))["insertion_loss_db.front"]
        for one in (share, min(share + more, 0.95))
    ]
    assert losses[1] <= losses[0] + 1e-4


def test_heavier_and_lined_panels_hold_back_more():
    def left(**panel):
        return figures(entry(panels={"left": panel}))["insertion_loss_db.left"]

    assert left(thickness_mm=0.6) < left(thickness_mm=1.2) < left(thickness_mm=1.2, lining_mm=8)
    assert left(material="plastic") < left(material="glass")


def test_lined_and_wooden_panels_let_less_heat_out():
    def wall(**changes):
        return figures(entry(**changes))["zones.main.wall_w_k"]

    assert wall(lining_mm=10) < wall(material="wood") < wall()


def test_narrower_gaps_between_drives_cost_more():
    losses = [
        figures(entry(bays=[{"count": 2, "spacing_mm": gap}]))["bay_groups.bays_1.loss_filled"] for gap in (2, 5, 10)
    ]
    assert losses == sorted(losses, reverse=True)


SCALED = ("fan_mount", "vent", "passage", "leak")


@settings(max_examples=20)
@given(st.floats(0.5, 2.0))
def test_areas_grow_with_the_square_of_the_size_and_losses_stay(scale):
    """Everything that is measured grows alike: sheet and holes too; what is fixed by standards is left out."""

    def sized(by: float) -> dict:
        panel = {"holes_share": 0.4, "hole_mm": 3.0 * by, "thickness_mm": 0.8 * by}
        fans = [{"face": "front", "size_mm": 100 * by, "count": 2}, {"face": "top", "size_mm": 100 * by}]
        size = {name: value * by for name, value in SIZE.items()}
        rear = {"slot_width_mm": 4 * by, "slot_length_mm": 40 * by, "slot_count": 6, "thickness_mm": 0.8 * by}
        divider = {"direction": "level", "open_cm2": 30 * by**2}
        return {
            **size, "fans": fans, "panels": {"front": panel, "rear": rear, "left": panel}, "feet_mm": 15 * by,
            "divider": divider, "slot_cover_share": 0.0, "seam_mm": 0.5 * by,
        }  # fmt: skip

    plain, scaled = (derived(sized(by)).block["openings"] for by in (1.0, scale))
    for one, other in zip(plain, scaled, strict=True):
        if one["kind"] in SCALED:
            assert other["area_cm2"] == pytest.approx(one["area_cm2"] * scale**2, rel=1e-4), one["code"]
        if one["kind"] in SCALED[:3]:
            assert other["loss_coefficient"] == pytest.approx(one["loss_coefficient"], rel=1e-4), one["code"]


def test_the_same_entry_gives_the_same_block():
    assert derived(entry()).block == derived(entry()).block
