"""Who says so, and how sure is it."""

import pytest

from catalog.figures import figures_of
from catalog.formats import PARTS
from catalog.models import Cooler, Drive, Enclosure, Fan, FigureNote
from catalog.provenance import SPREADS, figure, figures
from catalog.shapes import Children


def _columns():
    for layout in PARTS.values():
        yield from layout.columns.values()
        for entry in layout.entries:
            if isinstance(entry, Children):
                yield from entry.format.columns.values()


def test_every_column_knows_a_spread_of_the_table():
    named = {column.spread for column in _columns() if getattr(column, "spread", "")}
    assert named | {"leak_area"} == set(SPREADS)


@pytest.mark.parametrize("spread", SPREADS.values(), ids=SPREADS)
def test_measured_is_surer_than_declared_and_estimated(spread):
    assert 0 < spread.measured < spread.declared < spread.estimated


def test_a_figure_takes_the_part_s_source(loaded):
    found = figure(Cooler.objects.get(code="cooler-tower"), "r_solid_k_w")
    assert (found.value, found.unit, found.source, found.source_kind) == (0.05, "K/W", "bench", "measured")
    assert found.standard_uncertainty == pytest.approx(0.05 * SPREADS["cooler_resistance"].measured)
    assert not found.stated


def test_a_note_gives_a_figure_another_uncertainty(loaded):
    found = figure(Cooler.objects.get(code="cooler-tower"), "r_air_k_w")
    assert (found.standard_uncertainty, found.relative, found.stated) == (0.01, False, True)


def test_a_note_gives_a_figure_another_source(loaded):
    found = figure(Fan.objects.get(code="fan-120"), "sound_rpm_dba")
    assert (found.source, found.standard_uncertainty, found.unit) == ("sheet", SPREADS["fan_sound"].declared, "dB")


def test_a_share_of_a_number_is_given_in_its_unit(loaded):
    assert figure(Drive.objects.get(), "seek_w").standard_uncertainty == pytest.approx(0.15)


def test_a_share_of_a_curve_stays_a_share(loaded):
    found = figure(Fan.objects.get(code="fan-120"), "curve")
    assert (found.standard_uncertainty, found.relative) == (0.04, True)
    assert found.value["speed_rpm"] == 1200


@pytest.mark.parametrize(
    ("name", "source", "uncertainty"),
    [
        ("openings.front_fans.area_cm2", "bench", 0.03 * 170),
        ("openings.rear_fan.area_cm2", "guess", 0.2 * 85),
        ("openings.seams.area_cm2", "guess", 0.4 * 20),
        ("zones.main.wall_w_k", "sheet", 0.1),
        ("seats.graphics.preheat", "sheet", 0.12 * 0.8),
        ("seats.processor.preheat", "sheet", 0.2),
        ("insertion_loss_db", "bench", 0.9),
        ("size_mm", "sheet", 1.0),
    ],
)
def test_the_most_special_note_counts(loaded, name, source, uncertainty):
    found = figure(Enclosure.objects.get(), name)
    assert (found.source, found.standard_uncertainty) == (source, pytest.approx(uncertainty))


@pytest.mark.parametrize("name", ["nothing", "openings.gone.area_cm2", "openings.area_cm2", "name", "openings"])
def test_what_is_no_figure_is_named_with_what_is(loaded, name):
    with pytest.raises(KeyError, match=f"has no figure '{name}'; it has price"):
        figure(Enclosure.objects.get(), name)


def test_all_figures_of_an_enclosure_have_a_source(loaded):
    found = {f.name: f.source for f in figures(Enclosure.objects.get())}
    assert found["openings.front_fans.filter"] == "bench"
    assert set(found.values()) == {"sheet", "guess", "bench"}


def test_figures_can_be_listed_for_every_kind():
    assert "curve" in figures_of(PARTS["fans"])
    assert "openings.area_cm2" in figures_of(PARTS["enclosures"])


def test_listing_figures_takes_few_queries(loaded, django_assert_num_queries):
    enclosure = Enclosure.objects.with_wiring().get()
    with django_assert_num_queries(2):
        figures(enclosure)


def test_notes_read_as_the_figure_they_are_on(loaded):
    assert str(FigureNote.objects.get(figure="curve")) == "curve"
