"""What is derived and how it is told: figures with provenance, zones by layout, values as the trade knows them."""

import math

import pytest

from advisor.tape.entry import TapeEntry
from tests.advisor.tape.machines import derived

SIZE = {"width_mm": 220.0, "height_mm": 460.0, "depth_mm": 440.0}
FANS = [{"face": "front", "size_mm": 120, "count": 2}, {"face": "rear", "size_mm": 120}]
MESH = {"front": {"holes_share": 0.5, "filter": "medium"}}


def result(**changes):
    return derived({**SIZE, "fans": FANS, "panels": MESH, "bays": [{"count": 4}], **changes})


def openings(**changes):
    return {one["code"]: one for one in result(**changes).block["openings"]}


def zones(**changes):
    return {one["code"] for one in result(**changes).block["zones"]}


def seat(role, **changes):
    return next(one for one in result(**changes).block["seats"] if one["role"] == role)


def test_every_figure_says_how_sure_it_is_and_where_it_comes_from():
    lines = result().derived
    assert len({line.figure for line in lines}) == len(lines) > 60
    for line in lines:
        assert line.relation and line.source and line.inputs, line.figure
        assert line.uncertainty > 0 or line.value == 0, line.figure
        assert all(isinstance(value, str) or math.isfinite(value) for _, value in line.inputs)


def test_every_number_of_the_network_is_told():
    made = result()
    told = {line.figure: line.value for line in made.derived}
    for opening in made.block["openings"]:
        assert told[f"openings.{opening['code']}.area_cm2"] == opening["area_cm2"]
        assert told[f"openings.{opening['code']}.loss_coefficient"] == opening["loss_coefficient"]
    for zone in made.block["zones"]:
        assert told[f"zones.{zone['code']}.wall_w_k"] == zone["wall_w_k"]
    for one in made.block["seats"]:
        assert told[f"seats.{one['role']}.preheat"] == one["preheat"]
    for face, loss in made.block["insertion_loss_db"].items():
        assert told[f"insertion_loss_db.{face}"] == loss


def test_notes_carry_the_priors_and_what_was_measured():
    block = result(cooler_height_mm=150).block
    assert block["source"] == "own-estimate"
    assert block["sources"] == {"size_mm": "own-measure", "cooler_height_mm": "own-measure"}
    noted = block["uncertainty"]
    assert (noted["seats.preheat"], noted["openings.filter"], noted["zones.wall_w_k"]) == ("30 %", "40 %", "30 %")
    assert noted["openings.main_leak.area_cm2"] == "40 %" and 2.0 <= noted["insertion_loss_db"] <= 3.0


def test_areas_that_rest_on_defaults_are_less_sure():
    guessed, measured = ({**MESH["front"], **more} for more in ({}, {"holes_area_cm2": 500}))
    noted = [result(panels={"front": panel}).block["uncertainty"] for panel in (guessed, measured)]
    assert noted[0]["openings.front_fans.area_cm2"] == "30 %"
    assert "openings.front_fans.area_cm2" not in noted[1]


def test_front_to_rear_has_a_space_before_the_drives():
    assert zones() == {"front_space", "main"}
    found = openings()
    assert (found["front_fans"]["from"], found["front_fans"]["to"]) == ("outside", "front_space")
    assert (found["front_cage"]["from"], found["front_cage"]["to"]) == ("front_space", "main")
    assert seat("processor")["fed_by"] == "front_bypass"


def test_bottom_intake_feeds_graphics_from_below():
    fans = [{"face": "bottom", "size_mm": 140, "count": 3}, {"face": "rear", "size_mm": 140}]
    made = {"fans": fans, "panels": {}, "bays": [], "width_mm": 240.0, "depth_mm": 520.0}
    assert seat("graphics", **made)["preheat"] < 1 and seat("graphics", **made)["fed_by"] == "bottom_fans"


def test_side_intake_blows_onto_the_board_and_past_the_drives():
    fans = [{"face": "left", "size_mm": 180, "onto": "drives"}, {"face": "left", "size_mm": 180, "onto": "board"}]
    made = {"fans": fans, "panels": {"left": {"holes_share": 0.5}}, "bays": [{"count": 3, "place": "left"}]}
    found = openings(**made)
    assert (found["left_fans"]["to"], found["left_fans_2"]["to"]) == ("left_space", "main")
    assert seat("processor", **made)["fed_by"] == "left_fans_2"


def test_two_chambers_meet_only_by_the_holes_of_the_divider():
    made = {
        "width_mm": 320.0, "divider": {"direction": "upright", "at_mm": 200, "open_cm2": 15},
        "bays": [{"count": 4, "place": "own_chamber"}], "panels": {**MESH, "right": {"holes_share": 0.4}},
    }  # fmt: skip
    found = openings(**made)
    ends = [{one["from"], one["to"]} for one in found.values()]
    assert ends.count({"main", "second"}) == 1 and found["divider_holes"]["area_cm2"] == 15
    assert found["second_right_cage"]["to"] == "second" and found["supply_path"]["from"] == "second"


def test_fan_wall_stands_between_pen_and_board():
    size = {"width_mm": 430.0, "height_mm": 177.0, "depth_mm": 650.0}
    made = {**size, "fans": [{"face": "wall", "size_mm": 120, "count": 3}], "bays": [{"count": 12, "hot_swap": True}]}
    found = openings(**made)
    assert zones(**made) == {"front_space", "pen", "main"}
    assert (found["fan_wall"]["from"], found["fan_wall"]["to"]) == ("pen", "main")
    assert found["fan_wall"]["obstruction_db"] > 0 and found["front_cage"]["to"] == "pen"


def test_chimney_lets_its_slots_and_grille_out_at_the_top():
    made = {
        "board_plane": "turned", "fans": [{"face": "bottom", "size_mm": 140, "count": 2}],
        "panels": {"top": {"holes_share": 0.6}}, "bays": [], "width_mm": 240.0, "depth_mm": 320.0,
    }  # fmt: skip
    found = openings(**made)
    assert found["slot_covers"]["face"] == found["top_vent"]["face"] == "top"
    assert found["top_vent"]["from"] == "main" and found["top_vent"]["two_way"]


def test_supply_with_a_duct_of_its_own_has_a_bay():
    made = {"supply": {"breathes": "own_duct"}}
    found = openings(**made)
    assert "supply_bay" in zones(**made)
    assert (found["supply_vent"]["from"], found["supply_path"]["from"]) == ("outside", "supply_bay")
    assert found["supply_vent"]["filter"]["class"] == "medium"


def test_outer_walls_are_counted_once():
    plain = sum(one["wall_w_k"] for one in result(bays=[]).block["zones"])
    parted = sum(one["wall_w_k"] for one in result(bays=[{"count": 4}]).block["zones"])
    assert parted == pytest.approx(plain, rel=0.1)  # thin zones have shorter panels, and so thinner films of air


# Common practice, no source: typical values of the trade, which real parts scatter by a third around.
def test_steel_tower_loses_heat_as_the_trade_knows_it():
    assert 1.5 <= sum(one["wall_w_k"] for one in result().block["zones"]) <= 4.0


def test_closed_panels_and_mesh_hold_sound_back_as_the_trade_knows_it():
    losses = result().block["insertion_loss_db"]
    assert 0.0 <= losses["front"] <= 1.0
    assert all(6.0 <= losses[face] <= 15.0 for face in ("left", "right", "top", "bottom"))


@pytest.mark.parametrize("spacing", [5, 6, 7])
def test_cage_loses_what_the_trade_knows(spacing):
    (group,) = result(bays=[{"count": 4, "spacing_mm": spacing}]).block["bay_groups"]
    assert 3.0 <= group["loss_filled"] <= 8.0


# Common practice, no source: at 1 m/s fine filters lose 8 to 15 Pa, coarse ones 2 to 4 Pa.
@pytest.mark.parametrize(("class_", "low", "high"), [("fine", 8, 15), ("medium", 4, 8), ("coarse", 2, 4)])
def test_filters_lose_what_the_trade_knows(class_, low, high):
    screen = openings(panels={"front": {"holes_share": 0.5, "filter": class_}})["front_fans"]["filter"]
    assert low <= screen["linear_pa_s_m"] + screen["quadratic_pa_s2_m2"] <= high


# Two 120 mm fans on a stamped grille: a wire grille and the hub leave 55 to 90 % of the discs, a stamped one less.
def test_mounts_leave_free_what_hub_and_guard_leave():
    fan = {"face": "rear", "size_mm": 120, "count": 1}
    discs = math.pi / 4 * 12**2
    areas = [
        openings(fans=[{**fan, "guard": guard}])["rear_fans"]["area_cm2"] / discs
        for guard in ("none", "wire", "stamped")
    ]
    assert 0.55 <= areas[1] <= areas[0] <= 0.9 and 0.35 <= areas[2] < areas[1]


def test_mass_is_that_of_the_panels_and_what_they_carry():
    light, heavy = (derived({**SIZE, "fans": FANS, "material": one}).block["mass_kg"] for one in ("plastic", "steel"))
    assert 5.0 <= heavy <= 12.0 and light < heavy  # steel towers of this size weigh 6 to 10 kg (common practice)


def test_an_entry_is_a_frozen_record():
    assert TapeEntry.__dataclass_params__.frozen
