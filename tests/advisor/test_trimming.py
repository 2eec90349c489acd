"""A record that is too long loses what matters least, and says so."""

from advisor.reports.trimming import size, trimmed


def record(entries=3, misses=2):
    """A record in which every alternative takes 1 kB, and every near miss too."""
    one = {"text": "ä" * 500}
    listed = [{"id": str(number), "alternatives": [one] * 5} for number in range(entries)]
    return {"counts": {"considered": 9}, "shortlist": listed, "nearest_misses": [one] * misses, "notes": ["first"]}


def alternatives(found):
    return [len(entry["alternatives"]) for entry in found["shortlist"]]


def test_what_fits_is_left_alone():
    assert trimmed(record(), size(record())) == record()


def test_alternatives_of_the_last_entries_go_first():
    found = trimmed(record(), size(record()) - 100)
    assert (alternatives(found), len(found["nearest_misses"])) == ([5, 5, 0], 2)
    assert found["notes"][0] == "first" and "too long to keep whole" in found["notes"][1]


def test_nearest_misses_go_next_and_entries_stay():
    found = trimmed(record(), 1_700)
    assert (alternatives(found), len(found["nearest_misses"])) == ([0, 0, 0], 1)
    assert len(found["shortlist"]) == 3 and found["counts"] == {"considered": 9}


def test_the_result_fits():
    for most in range(1_000, 20_000, 500):
        assert size(trimmed(record(), most)) <= most


def test_the_given_record_is_not_changed():
    given = record()
    trimmed(given, 1_000)
    assert given == record()
