"""Ways inside: drive cages and what passes beside them, holes of a divider, seams of a fan wall; and leaks."""

from __future__ import annotations

from typing import Any

from advisor.engine.airflow.losses import slot_inlet, thick_plate
from advisor.tape.cages import cage_figures, outline_mm
from advisor.tape.draft import AREA_U, ASSUMED_AREA_U, INNER, LEAK_U, LOSS_U, OUTSIDE, Draft
from advisor.tape.entry import Bays
from advisor.tape.fields import WALL
from advisor.tape.geometry import SIDES
from advisor.tape.ledger import rounded
from advisor.tape.panels import Way
from advisor.tape.rooms import pen_code

# Beside a cage: what fans, frames and cables leave of the cross-section before the cage takes its part, the least of
# it that stays, and what gets past a sealed cage or a fan wall (all common practice, no source).
LEFT_SHARE, LEAST_SHARE, SEAM_SHARE = 0.5, 0.1, 0.01
# A card within this share of the longest one narrows the way beside a front cage by so much (common practice,
# no source).
LONG_CARD_SHARE, NARROWED_SHARE = 0.9, 0.25
# Mean over slowest gap velocity, without and with a back plane, and its uncertainty (common practice, no source).
MALDISTRIBUTION, BACKED_MALDISTRIBUTION, MALDISTRIBUTION_U = 1.2, 1.25, 0.1
# How deep a seam between panels is [mm] (common practice, no source).
SEAM_DEPTH_MM = 5.0
# Inner openings are thin in their width (choice of ours), and a hole is taken as no smaller a share than the
# handbook's least.
_INNER_DEPTH, _LEAST_PLATE, _MOST_PLATE = 0.05, 0.02, 0.95


def inner_way(area_cm2: float, cross_cm2: float) -> Way:
    """Return a hole in a cross-section of the enclosure."""
    share = min(max(area_cm2 / cross_cm2, _LEAST_PLATE), _MOST_PLATE)
    return Way(area_cm2, thick_plate(share, _INNER_DEPTH) * share**2)


def add_cages(draft: Draft) -> list[dict[str, Any]]:
    """Add one cage and one way past it for each place with bays; return the bay groups in the entry's order."""
    cages: dict[tuple[str, str], list[Bays]] = {}
    for bays in draft.entry.bays:
        if bays.in_cage:
            cages.setdefault((bays.chamber, bays.place), []).append(bays)
    for (chamber, face), beside in cages.items():
        _cage(draft, chamber, face, beside)
    for chamber in draft.rooms.chambers if draft.rooms.shared_front else ():
        if (chamber, "front") not in cages:
            _open_front(draft, chamber)
    return [_group(draft, place, bays) for place, bays in enumerate(draft.entry.bays)]


def cage_code(bays: Bays) -> str:
    """Return the code of the cage that some bays belong to."""
    return f"{bays.place}_cage" if bays.chamber == "main" else f"second_{bays.place}_cage"


def _cage(draft: Draft, chamber: str, face: str, beside: list[Bays]) -> None:
    rooms = draft.rooms
    box = rooms.chambers[chamber]
    ends = rooms.space(chamber, face), rooms.after_cage(face, chamber)
    cross = box.area_cm2(face)
    outline = sum(outline_mm(one.form, one.count, one.rows, one.spacing_mm) for one in beside)
    at = rooms.by_code[ends[0]].box.centre(_opposite(face))
    draft.opening(
        cage_code(beside[0]), "cage", ends, at, min(outline**0.5 * 10, box.size[2]), INNER, Way(outline, 1.0),
        "cage", inputs={"count": float(sum(one.count for one in beside)), "spacing_mm": beside[0].spacing_mm},
    )  # fmt: skip
    given = [one.bypass_cm2 for one in beside if one.bypass_cm2 is not None]
    sealed = all(one.sealed for one in beside)
    area = sum(given) if given else _bypass(cross, outline, sealed)
    narrowed = {"narrowed_beyond_mm": rounded(LONG_CARD_SHARE * draft.entry.card_length_mm)}
    crossed = face == "front" and chamber == "main" and not sealed and draft.entry.card_length_mm > 0
    draft.opening(
        f"{cage_code(beside[0]).removesuffix('_cage')}_bypass", "passage", ends, at, box.across(face)[1] * 0.5, INNER,
        inner_way(area, cross), "given_area" if given else "bypass",
        area_u=AREA_U if given else ASSUMED_AREA_U, inputs={"cross_cm2": cross, "cage_cm2": outline},
        **(narrowed | {"narrowed_share": NARROWED_SHARE} if crossed else {}),
    )  # fmt: skip


def _open_front(draft: Draft, chamber: str) -> None:
    """Add the way from a space behind the front that both chambers share into one that has no cage there."""
    rooms = draft.rooms
    cross = rooms.chambers[chamber].area_cm2("front")
    ends = rooms.space(chamber, "front"), rooms.after_cage("front", chamber)
    box = rooms.by_code[ends[1]].box
    draft.opening(
        f"{chamber}_front", "passage", ends, box.centre("front"), box.size[2] * 0.5, INNER,
        inner_way(LEFT_SHARE * cross, cross), "bypass", area_u=ASSUMED_AREA_U, inputs={"cross_cm2": cross},
    )  # fmt: skip


def _bypass(cross: float, outline: float, sealed: bool) -> float:
    return SEAM_SHARE * cross if sealed else max(LEFT_SHARE * cross - outline, LEAST_SHARE * cross)


def _opposite(face: str) -> str:
    axis, far = SIDES[face]
    return next(other for other, place in SIDES.items() if place == (axis, 1 - far))


def _group(draft: Draft, place: int, bays: Bays) -> dict[str, Any]:
    code, ledger = f"bays_{place + 1}", draft.ledger
    figures = cage_figures(bays.form, bays.spacing_mm, bays.air_along, bays.back_plane_share)
    inputs: dict[str, float | str] = {"form": bays.form, "spacing_mm": bays.spacing_mm, "air_along": bays.air_along}
    behind: dict[str, float | str] = {"back_plane_share": bays.back_plane_share}
    key = f"bay_groups.{code}"
    uneven = MALDISTRIBUTION if bays.back_plane_share == 1.0 else BACKED_MALDISTRIBUTION
    return {
        "code": code, "form": bays.form, "count": bays.count,
        "zone": draft.rooms.after_cage(bays.place, bays.chamber) if bays.in_cage else bays.chamber,
        **({"opening": cage_code(bays)} if bays.in_cage else {}),
        "gap_area_cm2": ledger.add(
            f"{key}.gap_area_cm2", figures.gap_area_cm2, "cm2", "gap_area", inputs, share=AREA_U
        ),
        "empty_area_cm2": ledger.add(
            f"{key}.empty_area_cm2", figures.empty_area_cm2, "cm2", "empty_area", inputs, share=AREA_U
        ),
        "loss_filled": ledger.add(
            f"{key}.loss_filled", figures.loss_filled, "", "gap_loss", {**inputs, **behind}, share=LOSS_U
        ),
        "loss_empty": ledger.add(f"{key}.loss_empty", figures.loss_empty, "", "empty_loss", behind, share=LOSS_U),
        "rows": bays.rows,
        "maldistribution": ledger.add(
            f"{key}.maldistribution", uneven, "", "maldistribution", behind, plain=MALDISTRIBUTION_U
        ),
        "hot_swap": bays.hot_swap, "tool_free": bays.tool_free,
    }  # fmt: skip


def add_divider(draft: Draft) -> None:
    """Add the holes of the divider."""
    divider = draft.entry.divider
    if divider is None:
        return
    main, face = draft.rooms.chambers["main"], {"upright": "left", "level": "top"}[divider.direction]
    towards = {"left": "right", "right": "left", "above": "bottom", "below": "top"}[divider.board_side]
    draft.opening(
        "divider_holes", "passage", ("main", "second"), main.centre(towards), divider.open_cm2**0.5 * 10
        if divider.direction == "upright" else 0.0, INNER, inner_way(divider.open_cm2, main.area_cm2(face)), "passage",
        area_u=AREA_U if draft.given("divider.open_cm2") else ASSUMED_AREA_U, two_way=True,
        inputs={"open_cm2": divider.open_cm2, "cross_cm2": main.area_cm2(face)},
    )  # fmt: skip


def add_wall_seams(draft: Draft) -> None:
    """Add what gets past a fan wall."""
    for chamber, box in draft.rooms.chambers.items():
        if any(fan.face == WALL and fan.chamber == chamber for fan in draft.entry.fans):
            cross = box.area_cm2("front")
            draft.opening(
                f"{pen_code(chamber)}_seam", "passage", (pen_code(chamber), chamber),
                draft.rooms.by_code[chamber].box.centre("front"), 0.0, INNER, inner_way(SEAM_SHARE * cross, cross),
                "inner_seam", area_u=LEAK_U, two_way=True, inputs={"cross_cm2": cross},
            )  # fmt: skip


def add_leaks(draft: Draft) -> None:
    """Add the seams of the panels, shared out over the zones by their outer panels."""
    entry, rooms = draft.entry, draft.rooms
    edges = 4 * (entry.width_mm + entry.height_mm + entry.depth_mm)
    loss = slot_inlet(SEAM_DEPTH_MM / 1000, entry.seam_mm / 1000)
    whole = sum(room.wall_cm2 for room in rooms.by_code.values())
    for code, room in rooms.by_code.items():
        if not room.wall_cm2:
            continue
        face = max(sorted(room.outer_cm2), key=lambda one: room.outer_cm2[one])
        area = entry.seam_mm * edges / 100 * room.wall_cm2 / whole
        draft.opening(
            f"{code}_leak", "leak", (code, OUTSIDE), room.box.centre(face), 0.0, face, Way(area, loss), "seams",
            area_u=LEAK_U, two_way=True, inputs={"seam_mm": entry.seam_mm, "edges_mm": edges},
        )  # fmt: skip
