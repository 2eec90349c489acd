"""One build as an entry of a shortlist, and a build that is not accepted as a near miss."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields
from typing import Any

from advisor.engine.inputs import Cooler, Drive, Enclosure, Fan, Supply
from advisor.engine.record.misses import Shortfall
from advisor.engine.record.records import Airflow, BuildRecord, NoiseAtSeat, OpeningAir, PartLine, Prediction
from advisor.engine.record.spot import CODES
from advisor.engine.search.outcome import Candidate, NearMiss, Scored
from advisor.engine.search.shortlist import Entry
from advisor.reports.plain import plain

ROLES = ("processor", "graphics", "drive", "ssd", "card", "controller")
NO_COMMON = "Each requirement is kept at some setting of its fans, but none keeps all; at the nearest one"
HEARD = 0.02  # sources and faces that add less than this share of what is heard are left out
_AS_THEY_ARE = (
    *("headroom_k", "noise_margin_db", "noise_chance", "ends", "bays", "power", "storage"),
    *("size_m", "spare_places", "loaded_kg"),
)


def shortlist_entry(entry: Entry, records: Mapping[str, BuildRecord], reasons: Sequence[str] = ()) -> dict[str, Any]:
    """Return one entry with its alternatives; ``records`` are by id, ``reasons`` are added to the record's own."""
    best = entry.best
    ranked = {"id": best.candidate.id, "url": None, "rank": entry.rank, "tied_with": list(entry.tied_with)}
    found = ranked | scored_build(best, records[best.candidate.id])
    found["reasons"] += list(reasons)
    found["alternatives"] = [_alternative(one, records[one.candidate.id]) for one in entry.alternatives]
    return found


def _alternative(scored: Scored, record: BuildRecord) -> dict[str, Any]:
    return {"id": scored.candidate.id, "url": None} | scored_build(scored, record, whole=False)


def scored_build(scored: Scored, record: BuildRecord, *, whole: bool = True) -> dict[str, Any]:
    """Return an accepted build with what it is worth; ``whole`` as in ``build_entry``."""
    worth = {"desirability": scored.desirability, "criteria": scored.criteria}
    return plain(worth) | build_entry(record, whole=whole)


def build_entry(record: BuildRecord, *, whole: bool = True) -> dict[str, Any]:
    """Return everything said about a build, accepted or not.

    Without ``whole``, what would double its size is left out: the flow of every opening, and every way of the sound.
    """
    named = {"enclosure": record.enclosure, "parts": record.parts, "price": record.price, "settings": record.settings}
    found = plain(named)
    found["predictions"] = {code: _prediction(record.predictions[code], whole) for code in CODES}
    found |= plain({name: getattr(record, name) for name in _AS_THEY_ARE})
    found["airflow"] = {code: _airflow(record.airflow[code], whole) for code in CODES}
    return found | plain({"warnings": record.warnings, "reasons": record.reasons, "cautions": record.cautions})


def _prediction(one: Prediction, whole: bool) -> dict[str, Any]:
    warmest = {f"{role}_c": one.warmest(role) for role in ROLES}
    found = {name: part.temperature_c if part else None for name, part in warmest.items()} | {
        "noise_dba": one.noise.noise_dba,
        "noise_with_background_dba": one.noise.with_background_dba,
        "noise_target_dba": one.noise.target_dba,
        "noise_chance": one.noise.chance,
        "temperatures": one.temperatures,
    }
    heard = {f"noise_by_{name}": _heard_by(one.noise, name) for name in ("source", "face")}
    return plain(found | heard | {"noise_sources": _heard(one.noise)} if whole else found)


def _heard_by(noise: NoiseAtSeat, name: str) -> dict[str, float]:
    """Shares of what is heard by source or by face, loudest first; they add up to one."""
    shares: dict[str, float] = {}
    for one in noise.contributions:
        key = one.source if name == "source" else one.path
        shares[key] = shares.get(key, 0.0) + one.heard_share
    return dict(sorted(shares.items(), key=lambda pair: -pair[1]))


def _heard(noise: NoiseAtSeat) -> list[dict[str, Any]]:
    return [
        {
            "source": one.source,
            "part": noise.parts[one.source],
            "face": one.path,
            "level_dba": one.level_dba,
            "sound_power_db": one.sound_power_db,
            "heard_share": one.heard_share,
        }
        for one in noise.contributions
        if one.heard_share >= HEARD
    ]


def _airflow(air: Airflow, whole: bool) -> dict[str, Any]:
    found = {field.name: getattr(air, field.name) for field in fields(air) if field.name != "openings"}
    return plain(found | {"openings": [_opening(one) for one in air.openings]} if whole else found)


def _opening(one: OpeningAir) -> dict[str, Any]:
    return {
        "code": one.code,
        "half": one.half,
        "from": one.from_zone,
        "to": one.to_zone,
        "mass_flow_kgs": one.mass_flow_kgs,
        "standard_uncertainty_kgs": one.mass_flow_u_kgs,
        "flow_m3s": one.flow_m3s,
        "reversed": one.reversed,
    }


def miss_entry(miss: NearMiss, record: BuildRecord | None, shortfalls: Sequence[Shortfall]) -> dict[str, Any]:
    """Return the build of an enclosure that misses by least, with what it misses and what would let it in.

    ``record`` is None where parts do not fit, so that nothing can be computed.
    """
    text = " ".join(one.text for one in shortfalls) or miss.text
    text = f"{NO_COMMON}: {text}" if miss.code == "no_common_setting" else text
    said = {
        "id": miss.candidate.id,
        "enclosure": miss.candidate.enclosure.code,
        "code": miss.code,
        "miss": miss.miss,
        "text": text,
        "shortfalls": tuple(shortfalls),
    }
    return plain(said) | (build_entry(record) if record else _unfit(miss.candidate))


def _unfit(one: Candidate) -> dict[str, Any]:
    mounts = (("intake_fan", one.fans.intake), ("exhaust_fan", one.fans.exhaust))
    parts = [
        _line("enclosure", one.enclosure, 1, ""),
        *(_line(role, fan, opening.fan_count, opening.code) for role, side in mounts for opening, fan in side),
        _line("cooler", one.cooler, 1, "processor"),
        _line("supply", one.supply, 1, one.enclosure.supply_opening),
    ]
    if one.drive is not None and one.drive_count:
        parts.append(_line("drive", one.drive, one.drive_count, ""))
    return plain({"parts": parts, "price": one.price})


def _line(role: str, part: Enclosure | Fan | Cooler | Supply | Drive, quantity: int, place: str) -> PartLine:
    return PartLine(role, part.code, part.name, quantity, place, part.price)
