"""Whether each kind of enclosure in the demo catalogue is a way of the air of its own, not one drawing scaled."""

from itertools import combinations, permutations


def mounts(enclosure):
    return [opening for opening in enclosure["openings"] if opening["kind"] == "fan_mount"]


def canonical(enclosure):
    """The graph of zones and openings, told apart by the openings' kinds alone: the same for all ways to name zones.

    Leaks and directions are left out, so that two kinds must differ by more than these.
    """
    zones = [zone["code"] for zone in enclosure["zones"]]
    edges = [(o["from"], o["to"], o["kind"]) for o in enclosure["openings"] if o["kind"] != "leak"]

    def renamed(order):
        number = {"outside": 0} | {zone: place for place, zone in enumerate(order, 1)}
        return sorted((*sorted((number[a], number[b])), kind) for a, b, kind in edges)

    return len(zones), tuple(min(renamed(order) for order in permutations(zones)))


def traits(enclosure):
    """What a buyer would name as differences, apart from size and price."""
    return {
        "mounts": sorted((m["side"], m["face"], m["fan_size_mm"], m["fan_count"]) for m in mounts(enclosure)),
        "bays": sorted((b["form"], b["count"], b["hot_swap"]) for b in enclosure["bay_groups"]),
        "openings": sorted((o["kind"], o["face"]) for o in enclosure["openings"]),
        "filters": sorted(o["filter"]["class"] for o in enclosure["openings"] if "filter" in o),
        "forms": (enclosure["board_forms"], enclosure["supply_forms"]),
        "stands": enclosure["orientations"],
        "service": enclosure["service"],
    }


def test_there_are_eleven_kinds_of_four_and_more(enclosures, kinds):
    assert len(kinds) >= 11 and len(enclosures) >= 44
    assert min(map(len, kinds.values())) >= 4


def test_no_two_kinds_share_a_graph(kinds):
    graphs = {kind: {canonical(e) for e in members} for kind, members in kinds.items()}
    assert [pair for pair in combinations(graphs, 2) if graphs[pair[0]] & graphs[pair[1]]] == []


def test_canonical_form_sees_through_names():
    def graph(*edges, zones):
        openings = [{"from": a, "to": b, "kind": kind} for a, b, kind in edges]
        return {"zones": [{"code": zone} for zone in zones], "openings": openings}

    one = graph(("outside", "a", "vent"), ("a", "b", "cage"), zones="ab")
    renamed = graph(("y", "outside", "vent"), ("x", "y", "cage"), zones="xy")
    other = graph(("outside", "a", "vent"), ("outside", "b", "cage"), zones="ab")
    assert canonical(one) == canonical(renamed) != canonical(other)


def test_enclosures_of_a_kind_differ_in_more_than_scale(kinds):
    alike = []
    for members in kinds.values():
        for one, other in combinations(members, 2):
            differing = [trait for trait, value in traits(one).items() if value != traits(other)[trait]]
            if len(differing) < 3 or "mounts" not in differing and "bays" not in differing:
                alike.append((one["code"], other["code"], differing))
    assert alike == []


def test_closed_fronts_with_bottom_intake_breathe_freely(kinds):
    # 300 to 600 cm2 free, three large fans, a coarse to medium filter (common practice, no source).
    for enclosure in kinds["closed_front_bottom_intake"]:
        (floor,) = [m for m in mounts(enclosure) if m["side"] == "intake"]
        assert floor["face"] == "bottom" and floor["fan_count"] == 3 and floor["fan_size_mm"] >= 140
        assert 300 <= floor["area_cm2"] <= 600 and floor["filter"]["class"] in ("coarse", "medium")
        assert not [o for o in enclosure["openings"] if o["face"] == "front" and o["kind"] != "leak"]
