"""One bad value at a time, in whatever way it is bad: it is named, with what would be accepted."""

from dataclasses import dataclass

import pytest

from catalog.built_in import BUILT_IN
from catalog.models import Maker

TOWER = "enclosures/test_tower.yaml"


@dataclass(frozen=True)
class Case:
    """Replace ``old`` by ``new`` in a file; ``said`` must be part of a refusal."""

    file: str
    old: str
    new: str
    said: str

    def __str__(self) -> str:
        return f"{self.file}: {self.said}"[:70]


WRONG_WORDS = [
    Case("fans.yaml", "min_rpm: 400", "min_rmp: 400", "min_rmp: is not a known key; accepted: did you mean 'min_rpm'?"),
    Case(
        "fans.yaml",
        "{speed_rpm: 1200",
        "{speed: 1200",
        "curve.speed: is not a known key; accepted: did you mean 'speed_rpm'?",
    ),
    Case(
        TOWER,
        "two_way: true",
        "twoway: true",
        "openings.seams.twoway: is not a known key; accepted: did you mean 'two_way'?",
    ),
    Case(TOWER, "  zones:\n", "  rooms:\n", "zones: is missing; accepted: a list of zone blocks"),
    Case(TOWER, "code: bypass,", "code: cage,", "openings: 'cage' is there twice; accepted: each code once"),
    Case("fans.yaml", "source: guess", "source: gess", "source: 'gess' is not known; accepted: did you mean 'guess'?"),
    Case("fans.yaml", "maker: Marl\n  source: g", "maker: Marle\n  source: g", "maker: 'Marle' is not known"),
    Case(
        "fans.yaml", "code: fan-120-switch", "code: fan-120", "'fan-120' is used by fans.yaml line 1, fan 'fan-120' too"
    ),
    Case("ssds.yaml", "code: ssd-1", "code: drive-8", "'drive-8' is used by drives.yaml line 1, drive 'drive-8' too"),
    Case("processors.yaml", "- {", "- cpu\n- {", "processors.yaml line 1: 'cpu' is not a block of keys and values"),
    Case("processors.yaml", "- {", "- [", "is not YAML"),
]

WRONG_NOTES = [
    Case("fans.yaml", "{sound_rpm_dba: sheet}", "{sound_rpm_dba: shet}", "sources.sound_rpm_dba: 'shet' is not known"),
    Case(
        "fans.yaml",
        "{sound_rpm_dba: sheet}",
        "{sound_rpm_dba: 3}",
        "sources.sound_rpm_dba: 3 is not the code of a source",
    ),
    Case("fans.yaml", "{sound_rpm_dba: sheet}", "sheet", "sources: 'sheet' is not a mapping from figures"),
    Case(
        "fans.yaml",
        "{curve: 4 %}",
        "{curv: 4 %}",
        "uncertainty.curv: '4 %' is not a figure of this part; accepted: did you",
    ),
    Case(
        "fans.yaml",
        "{curve: 4 %}",
        "{curve: 0.5}",
        "0.5 does not suit a list of points; accepted: a percentage such as '5 %'",
    ),
    Case("coolers.yaml", "dba: 0.4", "dba: 4 %", "'4 %' does not suit a list of points; accepted: a number in dB"),
    Case("coolers.yaml", "{r_air_k_w: 0.01", "{r_air_k_w: -0.01", "uncertainty.r_air_k_w: -0.01 is out of range"),
    Case("coolers.yaml", "{r_air_k_w: 0.01", "{r_air_k_w: 5000 %", "uncertainty.r_air_k_w: '5000 %' is out of range"),
    Case(
        TOWER, "zones.wall_w_k: 0.1", "zones: 0.1", "uncertainty.zones: 0.1 cannot hold for different figures at once"
    ),
    Case(TOWER, "openings.front_fans: bench", "openings.frnt: bench", "sources.openings.frnt: 'bench' is not a figure"),
]

WRONG_TOGETHER = [
    Case("sources.yaml", "bench: Test bench", "bench: ''", "accepted: a measured source needs the name of its bench"),
    Case("fans.yaml", "min_rpm: 700", "min_rpm: 1600", "min_rpm, max_rpm: (1600.0, 1500.0) do not go together"),
    Case(
        "fans.yaml",
        "[700, 1100, 1500]",
        "[700, 1900]",
        "[700.0, 1900.0] leaves the speed range; accepted: rising speeds",
    ),
    Case("fans.yaml", "[700, 1100, 1500]", "[]", "steps_rpm: [] is empty although a switch sets the speed"),
    Case(
        "fans.yaml",
        "[36, 8.5]",
        "[96, 8.5]",
        "points_m3h_pa: [[0, 12], [96, 8.5], [90, 0]] point 3 does not rise: 90 after 96",
    ),
    Case("fans.yaml", "[[0, 12]", "[[0, 0]", "curve.points_m3h_pa: [0.0, 0.0] is a first point without pressure"),
    Case("coolers.yaml", "[[400, 12], [1500, 34]]", "[]", "sound_rpm_dba: [] is empty although there is a fan"),
    Case(
        "coolers.yaml",
        "min_rpm: 400",
        "min_rpm: 0",
        "accepted: a cooler with a fan needs a slowest stable speed above 0 rpm",
    ),
    Case(
        "coolers.yaml", "max_rpm: 0", "max_rpm: 0\n  sound_rpm_dba: [[400, 9]]", "has readings although there is no fan"
    ),
    Case("supplies.yaml", "v_w: 430", "v_w: 460", "rating_12v_w, rating_w: (460.0, 450.0) do not go together"),
    Case("supplies.yaml", "[0.5, 0.9], [1, 0.87]", "[0.5, 0.9]", "efficiency: [0.5, 0.9] stops short of the rating"),
    Case("supplies.yaml", "[[0.4, 0], [1, 1]]", "[[0.4, 0]]", "speed_steps: [0.4, 0.0] stops short of the rating"),
    Case(
        "supplies.yaml",
        "path_loss: 3\n  price: 95",
        "path_loss: 4\n  price: 95",
        "which differs in path_loss; accepted: the same air",
    ),
    Case(
        "graphics.yaml",
        ",\n   curve: {speed_rpm: 4000, points_m3h_pa: [[0, 150], [60, 0]]}",
        "",
        "a blower needs the curve",
    ),
    Case("controllers.yaml", "ports: 8", "ports: 0", "accepted: a storage controller needs at least one port"),
    Case("ssds.yaml", "capacity_tb: 1", "capacity_tb: 0", "accepted: a solid-state drive needs a capacity above 0 TB"),
]

WRONG_VALUES = [
    Case("sources.yaml", "2031-05-17", "'yesterday'", "accepted: a date such as 2031-05-17"),
    Case("supplies.yaml", "[1, 0.87]", "[1, 1]", "point 3 second number is out of range; accepted: at least 2 pairs"),
    Case(
        "fans.yaml",
        "may_stop: true",
        "may_stop: yes",
        "may_stop: 'yes' is neither true nor false; accepted: true or false",
    ),
    Case(
        "fans.yaml",
        "power_w: 1.4",
        "power_w: true",
        "power_w: True is not a number; accepted: a number from 0 to 500 W",
    ),
    Case("fans.yaml", "power_w: 1.4", "power_w: '1.4'", "power_w: '1.4' is text, not a number: remove the quotes"),
    Case("fans.yaml", "power_w: 1.4", "power_w: .nan", "power_w: nan is not a finite number"),
    Case("fans.yaml", "power_w: 1.4", "power_w: 1e999", "power_w: inf is not a finite number"),
    Case("fans.yaml", "power_w: 1.4", "power_w: " + "9" * 40, "is out of range"),
    Case("fans.yaml", "power_w: 1.4", "power_w: " + "9" * 4000, "is not a finite number"),
    Case("fans.yaml", "power_w: 1.4", "power_w:", "power_w: is empty"),
    Case(
        "fans.yaml", "name: Marl 120\n", 'name: "Marl\\x07 120"\n', "name: 'Marl\\x07 120' contains control characters"
    ),
    Case("fans.yaml", "name: Marl 120\n", "name: [Marl]\n", "name: ['Marl'] is not text"),
    Case("fans.yaml", "code: fan-120\n", "code: 120\n", "code: 120 is not text: put it in quotes"),
    Case("boards.yaml", "card_slots: 3", "card_slots: 2.5", "card_slots: 2.5 is not a whole number"),
    Case(
        "boards.yaml",
        "form: micro_atx",
        "form: micro",
        "form: 'micro' is not known; accepted: one of mini_itx, micro_atx,",
    ),
    Case(
        "coolers.yaml",
        "sockets: [S3]",
        "sockets: [S4]",
        "sockets: ['S4'] word 1 is not known; accepted: a list of 1 or more",
    ),
    Case(TOWER, "{front: 1, rear", "{rear", "insertion_loss_db.front: is missing; accepted: a number from 0 to 60 dB"),
    Case(
        TOWER,
        "area_cm2: 85",
        "area_cm2: 0",
        "openings.rear_fan.area_cm2: 0 is out of range; accepted: a number above 0",
    ),
    Case(TOWER, "front: 0.7", "front: 0.6", "do not go together; accepted: the shares of a place must sum to 1"),
    Case(
        TOWER, "fan_count: 2", "fan_count: 0", "a fan mount needs fan_size_mm of 20 or more and fan_count of 1 or more"
    ),
    Case(
        TOWER,
        "class: fine, ",
        "",
        "filter.class, filter.area_cm2, filter.linear_pa_s_m, filter.quadratic_pa_s2_m2: ('', 300.0",
    ),
    Case(
        TOWER,
        "to: outside, position_mm: [110, 500, 60]",
        "to: main, position_mm: [110, 500, 60]",
        "joins two different zones",
    ),
    Case(TOWER, "side: exhaust, ", "", "openings.rear_fan.kind, side: ('fan_mount', '') do not go together"),
]


CAGE = "zone: main, opening: cage"
REAR = "    rear_fan: {rear: 1}\n"
MAIN = "    - {code: main,"
ATTIC = "    - {code: attic, position_mm: [1, 1, 1], wall_w_k: 0}\n"

HANGING_LOOSE = [
    Case(TOWER, CAGE, "zone: main, opening: bypass", "cage_35.opening: 'bypass' is a passage; accepted: cage"),
    Case(
        TOWER,
        CAGE,
        "zone: main, opening: cago",
        "cage_35.opening: 'cago' is not one of its openings; accepted: front_f",
    ),
    Case(TOWER, CAGE, "zone: main", "openings.cage.kind: 'cage' is a cage that no bay group names"),
    Case(TOWER, CAGE, "zone: third, opening: cage", "bay_groups.cage_35.zone: 'third' is not one of its zones"),
    Case(TOWER, "fed_by: bypass", "fed_by: front_fans", "graphics.fed_by: 'front_fans' does not open into zone main"),
    Case(
        TOWER,
        "role: processor, zone: main",
        "role: processor, zone: mian",
        "seats.processor.zone: 'mian' is not one of",
    ),
    Case(
        TOWER,
        "supply_opening: psu_path",
        "supply_opening: seams",
        "is not the opening of kind supply; accepted: psu_path",
    ),
    Case(
        TOWER, "supply_opening: psu_path", "supply_opening: ''", "supply_opening: '' is not the opening of kind supply"
    ),
    Case(TOWER, "bypass, kind: passage", "bypass, kind: supply", "openings: ['bypass', 'psu_path'] are of kind supply"),
    Case(TOWER, REAR, "", "sound_shares.rear_fan: is missing; accepted: a share for each face, 1 in all"),
    Case(TOWER, "    drives: {front: 0.4, left: 0.3, right: 0.3}\n", "", "sound_shares.drives: is missing"),
    Case(TOWER, REAR, REAR + "    roof: {top: 1}\n", "sound_shares.roof: 'roof' is neither a fan mount nor a source"),
    Case(
        TOWER, "[110, 500, 380]", "[110, 500, 700]", "rear_fan.position_mm: [110.0, 500.0, 700.0] lies outside the encl"
    ),
    Case(
        TOWER,
        "psu_path, kind: supply",
        "psu_path, kind: vent",
        "openings: [] are of kind supply; accepted: one opening",
    ),
    Case(TOWER, "    - {role: memory, zone: main, preheat: 1, cross_area_cm2: 280}\n", "", "seats.memory: is missing"),
    Case(TOWER, MAIN, ATTIC + MAIN, "zones.attic.code: 'attic' has no way to the outside"),
]


@pytest.mark.parametrize("case", [*WRONG_WORDS, *WRONG_NOTES, *WRONG_TOGETHER, *WRONG_VALUES, *HANGING_LOOSE], ids=str)
def test_a_bad_value_is_named_with_what_is_accepted(edit, refusals, case):
    edit(case.file, case.old, case.new)
    lines = refusals()
    assert any(case.said in line and line.startswith(case.file) for line in lines), lines
    assert Maker.objects.count() == len(BUILT_IN["makers"])


def test_a_huge_value_is_shown_in_short(edit, refusals):
    edit("fans.yaml", "name: Marl 120\n", f"name: {'x' * 5000}\n")
    (line,) = refusals()
    assert len(line) < 250
