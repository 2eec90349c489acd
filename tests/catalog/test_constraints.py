"""What the database itself refuses, whoever writes."""

import pytest
from django.apps import apps
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.db.models import F

from catalog import models
from catalog.models.columns import Choice, Count, Quantity
from catalog.models.lists import CheckedList

MODELS = [model for model in apps.get_app_config("catalog").get_models() if model is not models.CatalogLoad]


def _columns(model, *kinds):
    return [field for field in model._meta.concrete_fields if isinstance(field, kinds)]


def _refusal(model, **values):
    with pytest.raises(IntegrityError) as caught, transaction.atomic():
        model.objects.update(**values)
    return str(caught.value)


def _refused_by(model, constraint, **values):
    said = _refusal(model, **values)
    earlier = []
    if connection.vendor == "postgresql":  # of all broken rules of a row it names the first in the alphabet
        earlier = [rule.name for rule in model._meta.constraints if rule.name < constraint]
    assert any(name in said for name in (constraint, *earlier)), said


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model._meta.model_name)
def test_every_number_keeps_to_its_range(loaded, model):
    for field in _columns(model, Quantity, Count):
        name, accepted = f"{model._meta.model_name}_{field.name}_range", field.range
        _refused_by(model, name, **{field.name: accepted.high + 1})
        if isinstance(field, Quantity):
            _refused_by(model, name, **{field.name: accepted.low - 1})
            _refused_by(model, name, **{field.name: float("inf")})
        if accepted.low_open:
            _refused_by(model, name, **{field.name: accepted.low})


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model._meta.model_name)
def test_every_word_comes_from_its_vocabulary(loaded, model):
    for field in _columns(model, Choice):
        _refused_by(model, f"{model._meta.model_name}_{field.name}_known", **{field.name: "nonsense"})


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model._meta.model_name)
def test_every_list_is_checked_as_it_is_written(loaded, model):
    for field in _columns(model, CheckedList):
        with pytest.raises(ValidationError):
            model.objects.update(**{field.name: [[1, 2], [0, "x"]]})


def test_a_fan_needs_a_speed_range_that_is_one(loaded):
    _refused_by(models.Fan, "fan_speeds_in_order", min_rpm=F("max_rpm") + 1)


def test_no_number_stays_no_number(loaded):
    said = _refusal(models.Fan, power_w=float("nan"))
    # SQLite has no such number and stores nothing; in PostgreSQL it is above every range.
    assert ("fan_power_w_range" if connection.vendor == "postgresql" else "NOT NULL") in said


@pytest.mark.parametrize(
    ("model", "constraint", "values"),
    [
        (models.Cooler, "cooler_speeds_in_order", {"min_rpm": 2000}),
        (models.Cooler, "cooler_fan_turns", {"min_rpm": 0, "max_rpm": 900}),
        (models.Supply, "supply_12v_within_rating", {"rating_12v_w": 9000}),
        (models.SolidStateDrive, "solidstatedrive_stores", {"capacity_tb": 0}),
        (models.Controller, "controller_has_ports", {"ports": 0}),
        (models.Graphics, "graphics_blower_has_curve", {"airflow": "blower"}),
        (models.Graphics, "graphics_curve_whole", {"curve_speed_rpm": 900}),
        (models.Source, "source_measured_on_a_bench", {"kind": "measured", "bench": ""}),
        (models.FigureNote, "figurenote_says_something", {"source": None, "uncertainty": None}),
        (models.Zone, "zone_is_not_outside", {"code": "outside"}),
        (models.Opening, "opening_joins_two_places", {"to_zone": F("from_zone")}),
        (models.Opening, "opening_joins_two_places", {"to_zone": None, "from_zone": None, "face": "top"}),
        (models.Opening, "opening_mount_has_fans", {"kind": "fan_mount"}),
        (models.Opening, "opening_fans_in_mounts_only", {"kind": "vent", "fan_count": 1}),
        (
            models.Opening,
            "opening_fans_in_mounts_only",
            {"kind": "vent", "fan_size_mm": 0, "fan_count": 0, "may_be_empty": True},
        ),
        (models.Opening, "opening_mount_has_side", {"side": ""}),
        (models.Opening, "opening_outer_has_face", {"face": "inner"}),
        (models.Opening, "opening_filter_whole", {"filter_class": "fine", "filter_area_cm2": 0}),
        (models.Opening, "opening_filter_whole", {"filter_class": ""}),
        (models.SoundShare, "soundshare_sums_to_one", {"top": 0.5}),
        (models.SoundShare, "soundshare_sums_to_one", {"front": F("front") * 0.99999}),
    ],
)
def test_rules_between_columns_hold(loaded, model, constraint, values):
    _refused_by(model, constraint, **values)


@pytest.mark.parametrize(
    ("model", "values"),
    [
        (models.Fan, {"code": "same"}),
        (models.Zone, {"code": "same"}),
        (models.Opening, {"code": "same"}),
        (models.BayGroup, {"code": "same"}),
        (models.Seat, {"role": "board"}),
        (models.SoundShare, {"place": "same"}),
        (models.FigureNote, {"object_id": 1, "content_type": 1, "figure": "same"}),
        (models.Opening, {"kind": "supply", "fan_size_mm": 0, "fan_count": 0, "may_be_empty": False}),
    ],
)
def test_names_are_unique(loaded, model, values):
    assert "unique" in _refusal(model, **values).lower()


def test_sound_shares_sum_to_one_to_a_millionth(loaded):
    share = models.SoundShare.objects.get(place="rear_fan")
    share.rear = 1 - 9e-7
    share.save()
    assert models.SoundShare.objects.get(place="rear_fan").rear == 1 - 9e-7


def test_a_source_in_use_stays(loaded):
    with pytest.raises(Exception, match="Cannot delete some instances of model 'Source'"):
        models.Source.objects.get(code="guess").delete()


def test_a_part_takes_its_notes_along(loaded):
    models.Fan.objects.get(code="fan-120").delete()
    assert not models.FigureNote.objects.filter(figure="curve").exists()


def test_a_row_inside_points_at_its_own_enclosure(loaded):
    enclosure = models.Enclosure.objects.get()
    twin = models.Enclosure.objects.get()
    twin.pk, twin.code = None, "twin"
    twin.save()
    zone = models.Zone.objects.create(enclosure=twin, code="z", x_mm=1, y_mm=1, z_mm=1, wall_w_k=1)
    seat = enclosure.seats.first()
    seat.zone = zone
    with pytest.raises(ValidationError, match="z belongs to another enclosure"):
        seat.full_clean()


def test_full_clean_speaks_the_words_of_the_column(loaded):
    fan = models.Fan.objects.get(code="fan-120")
    fan.min_rpm, fan.sound_rpm_dba = 5, [[100, 10], [90, 12]]
    with pytest.raises(ValidationError) as caught:
        fan.full_clean()
    assert "accepted: a number from 10 to 50000 rpm" in caught.value.message_dict["min_rpm"][0]
    assert "point 2 does not rise: 90 after 100" in caught.value.message_dict["sound_rpm_dba"][0]


def test_full_clean_looks_between_columns(loaded):
    fan = models.Fan.objects.get(code="fan-120-switch")
    fan.steps_rpm = []
    with pytest.raises(ValidationError, match="although a switch sets the speed"):
        fan.full_clean()


def test_every_model_has_its_migration(db, capsys):
    from django.core.management import call_command

    call_command("makemigrations", "catalog", check=True, dry_run=True)
    assert "No changes" in capsys.readouterr().out
