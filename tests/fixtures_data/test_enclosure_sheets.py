"""Whether the demo catalogue's enclosures could stand: references, geometry, areas and losses, walls and sound."""

from collections import Counter

import pytest
from scipy.stats import spearmanr

FACES = ("front", "rear", "left", "right", "top", "bottom")
# Where a face lies: which coordinate, and whether at its far end (x right, y rear, z up).
PLANES = {"left": (0, 0), "right": (0, 1), "front": (1, 0), "rear": (1, 1), "bottom": (2, 0), "top": (2, 1)}
ROLES = {"processor", "graphics", "board", "memory", "ssd", "card", "controller"}


def spans(enclosure):
    """Extent along x, y and z [mm]."""
    width, height, depth = enclosure["size_mm"]
    return width, depth, height


def panels_m2(enclosure):
    width, height, depth = (side / 1000 for side in enclosure["size_mm"])
    return 2 * (width * height + width * depth + height * depth)


def mounts(enclosure):
    return [opening for opening in enclosure["openings"] if opening["kind"] == "fan_mount"]


def filters(enclosures):
    for enclosure in enclosures:
        for opening in enclosure["openings"]:
            if "filter" in opening:
                yield f"{enclosure['code']} {opening['code']}", opening["filter"]


def test_references_hold(enclosures):
    for enclosure in enclosures:
        zones = {zone["code"] for zone in enclosure["zones"]}
        openings = {opening["code"]: opening for opening in enclosure["openings"]}
        assert len(openings) == len(enclosure["openings"]) and "outside" not in zones, enclosure["code"]
        assert {end for o in openings.values() for end in (o["from"], o["to"])} == zones | {"outside"}
        assert openings[enclosure["supply_opening"]]["kind"] == "supply", enclosure["code"]
        for group in enclosure["bay_groups"]:
            cage = openings.get(group["opening"])
            assert group["zone"] in zones and (cage is None or group["zone"] in (cage["from"], cage["to"]))
        for seat in enclosure["seats"]:
            assert seat["zone"] in zones and ("fed_by" not in seat or openings[seat["fed_by"]]["to"] == seat["zone"])


def test_every_part_has_a_seat(enclosures):
    assert all(Counter(seat["role"] for seat in e["seats"]) == Counter(ROLES) for e in enclosures)


def test_directly_fed_seats_name_their_feed(enclosures):
    for enclosure in enclosures:
        for seat in enclosure["seats"]:
            assert (seat["preheat"] < 1) == ("fed_by" in seat), (enclosure["code"], seat["role"])
            assert 0.6 <= seat["preheat"] <= 2.5, (enclosure["code"], seat["role"])


def test_every_zone_has_a_way_out_that_is_no_leak(enclosures):
    for enclosure in enclosures:
        pairs = [{o["from"], o["to"]} for o in enclosure["openings"] if o["kind"] != "leak"]
        reached = {"outside"}
        for _ in enclosure["zones"]:
            reached |= {zone for pair in pairs if pair & reached for zone in pair}
        assert {zone["code"] for zone in enclosure["zones"]} <= reached, enclosure["code"]


def test_networks_stay_small(enclosures):
    assert all(len(e["zones"]) <= 7 and 8 <= len(e["openings"]) <= 18 for e in enclosures)
    assert all(len(e["zones"]) >= 2 for e in enclosures)


def test_everything_lies_inside_the_box(enclosures):
    for enclosure in enclosures:
        for place in enclosure["zones"] + enclosure["openings"]:
            inside = zip(place["position_mm"], spans(enclosure), strict=True)
            assert all(0 <= at <= end for at, end in inside), (enclosure["code"], place["code"])


def test_openings_lie_on_their_faces(enclosures):
    for enclosure in enclosures:
        for opening in enclosure["openings"]:
            outer = "outside" in (opening["from"], opening["to"])
            assert outer == (opening["face"] != "inner"), (enclosure["code"], opening["code"])
            if outer:
                axis, far = PLANES[opening["face"]]
                distance = opening["position_mm"][axis] - far * spans(enclosure)[axis]
                assert distance == 0, (enclosure["code"], opening["code"])


def test_fans_fit_on_their_faces(enclosures):
    for enclosure in enclosures:
        for mount in mounts(enclosure):
            axis = PLANES[mount["face"]][0] if mount["face"] != "inner" else None
            sides = [length for place, length in enumerate(spans(enclosure)) if place != axis]
            size, count = mount["fan_size_mm"], mount["fan_count"]
            room = (max(sides) // size) * (min(sides) // size)
            assert room >= count, (enclosure["code"], mount["code"])


def test_mounts_leave_free_what_grilles_leave(enclosures):
    # Free area over the fans' discs: a wire grille and the hub leave 55 to 90 % (common practice, no source).
    for enclosure in enclosures:
        for mount in mounts(enclosure):
            discs = 3.1416 / 4 * (mount["fan_size_mm"] / 10) ** 2 * mount["fan_count"]
            assert 0.5 <= mount["area_cm2"] / discs <= 0.9, (enclosure["code"], mount["code"])


def test_mounts_take_fans_of_the_catalogue_in_few_sizes(enclosures, sheets):
    sizes = {fan["size_mm"] for fan in sheets["fans"]}
    for enclosure in enclosures:
        assert mounts(enclosure) and {m["fan_size_mm"] for m in mounts(enclosure)} <= sizes, enclosure["code"]
        for side in ("intake", "exhaust"):
            group = [m for m in mounts(enclosure) if m["side"] == side]
            assert len({m["fan_size_mm"] for m in group}) <= 2, enclosure["code"]
            for size in {m["fan_size_mm"] for m in group}:
                assert len({m.get("may_be_empty", False) for m in group if m["fan_size_mm"] == size}) == 1


def test_some_mounts_may_stay_empty(enclosures):
    empty = {e["code"] for e in enclosures if any(m.get("may_be_empty") for m in mounts(e))}
    assert 6 <= len(empty) <= len(enclosures) / 2


def test_filters_lose_what_their_class_says(enclosures):
    # Fine 8 to 15 Pa and coarse 2 to 4 Pa at 1 m/s, fine ones mostly linear (common practice, no source).
    bands = {"fine": (8, 15), "medium": (4, 8), "coarse": (2, 4)}
    for name, part in filters(enclosures):
        low, high = bands[part["class"]]
        assert low <= part["linear_pa_s_m"] + part["quadratic_pa_s2_m2"] <= high, name
        assert part["class"] != "fine" or part["linear_pa_s_m"] > 3 * part["quadratic_pa_s2_m2"], name


def test_filters_are_no_smaller_than_their_openings(enclosures):
    for enclosure in enclosures:
        for opening in enclosure["openings"]:
            if "filter" in opening and opening["kind"] != "cage":
                assert opening["filter"]["area_cm2"] >= opening["area_cm2"], (enclosure["code"], opening["code"])


def test_losses_are_those_of_grilles_slots_and_seams(enclosures):
    bands = {"fan_mount": (1.2, 4.6), "vent": (1.8, 4.6), "passage": (1, 2.5), "leak": (1.5, 2), "supply": (1.5, 2.3)}
    for enclosure in enclosures:
        for opening in (o for o in enclosure["openings"] if o["kind"] in bands):
            low, high = bands[opening["kind"]]
            assert low <= opening["loss_coefficient"] <= high, (enclosure["code"], opening["code"])


def test_leaks_are_small_and_go_both_ways(enclosures):
    for enclosure in enclosures:
        leaks = [o for o in enclosure["openings"] if o["kind"] == "leak"]
        assert leaks and all(4 <= o["area_cm2"] <= 20 and o["two_way"] for o in leaks), enclosure["code"]


def test_cages_leave_between_their_drives_less_than_their_outline(enclosures):
    for enclosure in enclosures:
        for cage in (o for o in enclosure["openings"] if o["kind"] == "cage"):
            groups = [b for b in enclosure["bay_groups"] if b["opening"] == cage["code"]]
            assert groups and sum(b["gap_area_cm2"] * b["count"] for b in groups) < 0.6 * cage["area_cm2"]
            assert sum(b["empty_area_cm2"] * b["count"] for b in groups) <= cage["area_cm2"], enclosure["code"]


def test_filled_bays_lose_three_to_eight_velocity_heads(enclosures):
    # Cage of 3.5-inch drives with gaps of 5 to 8 mm (common practice, no source).
    groups = [b for e in enclosures for b in e["bay_groups"] if b["form"] == "3.5" and b["opening"]]
    assert all(3 <= b["loss_filled"] <= 8 and b["loss_empty"] < b["loss_filled"] for b in groups)
    assert all(b["gap_area_cm2"] < b["empty_area_cm2"] and 1.1 <= b["maldistribution"] <= 1.3 for b in groups)


def test_panels_conduct_like_steel_or_wood(enclosures):
    # 1.5 to 4 W/K for a steel tower (common practice, no source), 1.5 to 3 W/(m2 K) of panel for any.
    for enclosure in enclosures:
        conductance = sum(zone["wall_w_k"] for zone in enclosure["zones"])
        assert 1.5 <= conductance / panels_m2(enclosure) <= 3.1, enclosure["code"]
        if "tower" in enclosure["kind"] and enclosure["size_mm"][1] > 400:
            assert 1.5 <= conductance <= 4.3, enclosure["code"]


def test_sound_shares_sum_to_one(enclosures):
    for enclosure in enclosures:
        for place, shares in enclosure["sound_shares"].items():
            hundredths = [round(100 * shares[face]) for face in FACES]
            assert set(shares) == set(FACES) and min(hundredths) > 0, (enclosure["code"], place)
            assert sum(hundredths) == 100, (enclosure["code"], place)
            assert all(100 * shares[f] == pytest.approx(h) for f, h in zip(FACES, hundredths, strict=True))


def test_every_source_of_sound_has_shares(enclosures):
    for enclosure in enclosures:
        places = {mount["code"] for mount in mounts(enclosure)} | {"processor", "graphics", "drives", "supply"}
        assert set(enclosure["sound_shares"]) == places, enclosure["code"]


def test_fans_sound_most_through_their_own_face(enclosures):
    for enclosure in enclosures:
        for mount in (m for m in mounts(enclosure) if m["face"] != "inner"):
            shares = enclosure["sound_shares"][mount["code"]]
            assert max(shares, key=shares.get) == mount["face"], (enclosure["code"], mount["code"])


def test_faces_hold_back_sound_as_closed_or_open_ones_do(enclosures, kinds):
    # Closed panels 6 to 15 dB, mesh 0 to 1 (common practice, no source); slats and thin sheet lie between.
    losses = {e["code"]: e["insertion_loss_db"] for e in enclosures}
    assert all(set(faces) == set(FACES) and all(0 <= db <= 15 for db in faces.values()) for faces in losses.values())
    mesh = [losses[e["code"]]["front"] for e in kinds["mesh_front_tower"]]
    closed = [losses[e["code"]]["front"] for e in kinds["closed_front_bottom_intake"]]
    assert max(mesh) <= 1 and min(closed) >= 10


def test_large_openings_hold_back_less_than_closed_panels(enclosures):
    for enclosure in enclosures:
        for opening in (
            o for o in enclosure["openings"] if o["face"] != "inner" and o["kind"] in ("vent", "fan_mount")
        ):
            if opening["area_cm2"] >= 150 and opening["loss_coefficient"] < 3:
                assert enclosure["insertion_loss_db"][opening["face"]] <= 7, (enclosure["code"], opening["code"])


def test_heavier_enclosures_cost_more(enclosures):
    mass, price = zip(*((e["mass_kg"], e["price"]) for e in enclosures), strict=True)
    assert spearmanr(mass, price).statistic > 0.7


def test_bays_reach_from_one_to_two_dozen(enclosures):
    counts = [sum(b["count"] for b in e["bay_groups"] if b["form"] == "3.5") for e in enclosures]
    many = [count for count in counts if count >= 10]
    assert max(counts) >= 24 and len(many) >= 6
    assert max(b["count"] for e in enclosures for b in e["bay_groups"] if b["form"] == "5.25") >= 9


def test_every_board_and_supply_form_finds_a_home(enclosures, sheets):
    assert {form for e in enclosures for form in e["board_forms"]} == {b["form"] for b in sheets["boards"]}
    assert {form for e in enclosures for form in e["supply_forms"]} == {s["form"] for s in sheets["supplies"]}


def test_at_least_two_supplies_fit_each_enclosure(enclosures, sheets):
    for enclosure in enclosures:
        fitting = [
            s
            for s in sheets["supplies"]
            if s["form"] in enclosure["supply_forms"] and s["length_mm"] <= enclosure["supply_length_mm"]
        ]
        assert len(fitting) >= 2, enclosure["code"]
