"""Invented parts with honest defaults, for tests of power, storage and fit."""

from advisor.engine.inputs import (
    Adapter,
    AirCooledPart,
    BayGroup,
    Brief,
    Cooler,
    Drive,
    Enclosure,
    FanCurve,
    Service,
    Supply,
    Ups,
)

CURVE = FanCurve(((0.0, 20.0), (0.03, 0.0)), 1200.0)


def make_brief(**changes):
    known = {"processor_watts": 65.0, "board_form": "atx", "noise_target_dba": 32.0, "drive_count": 4}
    return Brief(**{**known, **changes})


def make_drive(**changes):
    known = {
        "code": "drive",
        "name": "Drive",
        "form": "3.5",
        "capacity_tb": 8.0,
        "idle_w": 5.0,
        "seek_w": 8.0,
        "spin_up_a": 2.0,
        "spin_up_s": 10.0,
        "idle_sound_db": 26.0,
        "seek_sound_db": 29.0,
        "limit_c": 60.0,
        "yearly_failure_rate": 0.01,
        "read_error_rate": 1e-15,
        "max_per_box": 8,
        "price": 180.0,
        "surface_m2": 0.043,
    }
    return Drive(**{**known, **changes})


def make_supply(**changes):
    known = {
        "code": "supply",
        "name": "Supply",
        "form": "atx",
        "length_m": 0.14,
        "rating_w": 500.0,
        "rating_12v_w": 480.0,
        "efficiency": ((0.1, 0.84), (0.2, 0.87), (0.5, 0.90), (1.0, 0.87)),
        "sound": ((0.1, 20.0), (1.0, 38.0)),
        "air_path": "atx",
        "curve": CURVE,
        "speed_steps": ((0.3, 0.0), (0.6, 0.5), (1.0, 1.0)),
        "path_area_m2": 0.006,
        "path_loss": 3.0,
        "price": 80.0,
    }
    return Supply(**{**known, **changes})


def make_ups(**changes):
    known = {"code": "ups", "name": "Ups", "rating_w": 600.0, "runtime": ((60.0, 80.0), (240.0, 18.0), (600.0, 4.5))}
    return Ups(**{**known, "price": 150.0, **changes})


def make_cooler(**changes):
    known = {
        "code": "cooler",
        "name": "Cooler",
        "height_m": 0.155,
        "sockets": ("S1", "S2"),
        "r_solid_k_w": 0.1,
        "r_air_k_w": 0.1,
        "speed_exponent": 0.6,
        "flow_exponent": 0.1,
        "min_rpm": 400.0,
        "max_rpm": 1500.0,
        "control": "temperature",
        "sound": ((600.0, 15.0), (1500.0, 33.0)),
        "power_w": 2.0,
        "price": 40.0,
    }
    return Cooler(**{**known, **changes})


def make_group(code="cage", form="3.5", count=8, **changes):
    return BayGroup(code, form, count, "main", "", 0.001, 0.003, 5.0, 1.0, **changes)


def make_adapter(**changes):
    known = {"code": "five", "name": "Five", "from_form": "5.25", "bays": 3, "to_form": "3.5", "drives": 5}
    return Adapter(**{**known, "gap_area_m2": 0.0005, "loss_filled": 6.0, "price": 60.0, **changes})


def make_controller(**changes):
    known = {"code": "eight", "name": "Eight", "heat_w": 10.0, "needed_air_m_s": 1.0, "rise_k": 30.0, "limit_c": 90.0}
    return AirCooledPart(**{**known, "price": 90.0, "ports": 8, "slots": 1, **changes})


def make_enclosure(**changes):
    known = {
        "code": "box",
        "name": "Box",
        "kind": "tower",
        "size_m": (0.2, 0.45, 0.5),
        "mass_kg": 9.0,
        "price": 110.0,
        "zones": (),
        "openings": (),
        "bay_groups": (make_group(),),
        "seats": (),
        "board_forms": ("atx",),
        "cooler_height_m": 0.16,
        "card_length_m": 0.3,
        "card_slots": 7,
        "supply_forms": ("atx",),
        "supply_length_m": 0.18,
        "supply_opening": "supply",
        "insertion_loss_db": {},
        "sound_shares": {},
        "service": Service(True, True, False, 0.02, 2),
    }
    return Enclosure(**{**known, **changes})
