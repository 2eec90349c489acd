"""Whether the inside of an enclosure hangs together: what takes more than one change to spoil."""

TOWER = "enclosures/test_tower.yaml"


def test_a_bay_group_sits_at_an_end_of_its_cage(edit, refusals):
    edit(TOWER, "    - {code: main,", "    - {code: third, position_mm: [1, 1, 1], wall_w_k: 0}\n    - {code: main,")
    edit(TOWER, "code: seams, kind: leak, from: main", "code: seams, kind: leak, from: third")
    edit(TOWER, "zone: main, opening: cage", "zone: third, opening: cage")
    assert "is not an end of cage cage; accepted: front_zone or main" in refusals()[0]


def test_a_fan_mount_is_not_called_as_a_source(edit, refusals):
    edit(TOWER, "code: rear_fan,", "code: drives,")
    edit(TOWER, "    rear_fan: {rear: 1}\n", "")
    assert "openings.drives.code: 'drives' is the name of a sound source" in refusals()[0]
