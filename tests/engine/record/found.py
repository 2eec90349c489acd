"""A small catalogue of hand-written enclosures in which a search finds builds, for tests of what is said about them."""

from dataclasses import replace
from functools import cache

from advisor.engine.inputs import Board, Brief, Catalogue
from advisor.engine.record.building import build_of
from advisor.engine.record.describe import describe
from advisor.engine.record.spot import spot_of
from advisor.engine.search.score import score_enclosure
from tests.engine import builds
from tests.engine.make_parts import make_controller, make_cooler, make_drive, make_supply, make_ups

LIMITS = {"limit_processor_c": 95.0, "limit_graphics_c": 105.0, "limit_drive_c": 80.0}


def catalogue() -> Catalogue:
    """Three enclosures of unlike air, fans of two sizes, one of them on a switch, and two drive models."""
    slow, switch = builds.fan(0.12), builds.fan(0.12, "turn", control="switch", steps_rpm=(700.0, 1000.0), price=9.0)
    return Catalogue(
        enclosures=(builds.drive_cube(), builds.mesh_tower(), builds.switched_tower()),
        fans=(slow, switch, builds.fan(0.14)),
        coolers=(make_cooler(),),
        supplies=(make_supply(),),
        drives=(
            make_drive(limit_c=80.0),
            make_drive(code="warm_drive", idle_w=6.0, seek_w=9.0, price=150.0, limit_c=80.0),
        ),
        ssds=(builds.SSD,),
        cards=(builds.CARD,),
        ups_units=(make_ups(),),
    )


def brief(**changes) -> Brief:
    """A workstation with three drives and a UPS, at limits that the enclosures can keep."""
    known = builds.brief_of(
        3, processor_watts=80.0, noise_target_dba=42.0, layout="single_parity", ups_minutes=5.0, **LIMITS
    )
    return replace(known, **changes)


@cache
def best(code: str = "mesh_tower"):
    """The best accepted candidate of an enclosure, and its build."""
    parts = catalogue()
    box = next(one for one in parts.enclosures if one.code == code)
    scored = score_enclosure(brief(), parts, box, prune=False).best[0]
    one = scored.candidate
    return scored, build_of(brief(), parts, one.enclosure, one.fans, one.cooler, one.supply, one.drive)


@cache
def record(code: str = "mesh_tower"):
    """Everything said about the best candidate of an enclosure."""
    scored, build = best(code)
    return describe(build, scored.rows, scored.steps, catalogue(), scored.criteria)


@cache
def spot(code: str = "mesh_tower"):
    scored, build = best(code)
    return spot_of(build, scored.rows, scored.steps)


@cache
def switched():
    """A tower whose rear fan has a switch, at its first setting."""
    box, switch = builds.mesh_tower(), catalogue().fans[1]
    fans = builds.fans_of(box, exhaust={0.12: switch})
    build = builds.build_of(box, brief(), fans=fans, drive=make_drive(limit_c=80.0))
    return spot_of(build, tuple(int(k) for k in builds.rows_at(build, 0, 0)), (0,) * 5)


@cache
def with_every_part():
    """A build that has a part of every role with a limit, a storage controller too, its spot and its record."""
    board = Board("few_ports", "Few ports", "atx", 20.0, 1, 2, 7)
    parts = replace(catalogue(), boards=(board,), controllers=(make_controller(),))
    asked = brief(required_parts=("few_ports",))
    box = next(one for one in parts.enclosures if one.code == "mesh_tower")
    scored = score_enclosure(asked, parts, box).best[0]
    one = scored.candidate
    build = build_of(asked, parts, one.enclosure, one.fans, one.cooler, one.supply, one.drive)
    return spot_of(build, scored.rows, scored.steps), describe(build, scored.rows, scored.steps, parts)


def describe_with_target(target_dba: float, **changes):
    """The best build of the first tower, described under another noise target that it may miss."""
    scored, build = best()
    case = replace(build.case, brief=brief(noise_target_dba=target_dba, **changes))
    return describe(replace(build, case=case), scored.rows, scored.steps, catalogue())
