"""Checks of drives, cooler and supply."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.engine.fit.enclosure import SIZE_TOLERANCE_M, controller_slots, mm
from advisor.engine.fit.misfit import Misfit, measured, unlike
from advisor.engine.inputs import AirCooledPart, Board, Brief, Cooler, Drive, Enclosure, Supply
from advisor.engine.power.spin_up import SpinUpPlan
from advisor.engine.storage.controllers import choose_controllers, most_ports
from advisor.engine.storage.layouts import MOST_DRIVES, drives_for, layout, usable_capacity_tb

# A supply runs at no more than this share of its ratings at the peak (common practice, no source).
SUPPLY_HEADROOM = 0.9


def layout_capacity(drive: Drive, brief: Brief) -> Misfit | None:
    """Check that some number of these drives reaches the usable capacity."""
    wanted = brief.usable_capacity_tb
    if wanted is None or drives_for(brief, drive) is not None:
        return None
    known = layout(brief.layout)
    most = MOST_DRIVES - brief.hot_spares
    limit = usable_capacity_tb(known.code, most - most % known.multiple, drive.capacity_tb)
    text = (
        f"{drive.code} ({drive.capacity_tb:g} TB) gives at most {limit:g} TB in the layout {known.code}; {wanted:g} TB "
        "are wanted: choose another layout or larger drives."
    )
    return measured("layout_capacity", drive.code, wanted, limit, text)


def drives_per_box(drive: Drive, drive_count: int) -> Misfit | None:
    """Check how many of a drive its maker allows in one box."""
    if drive_count <= drive.max_per_box:
        return None
    text = (
        f"{drive.code} is meant for up to {drive.max_per_box} drives in one box; {drive_count} are wanted: choose a "
        "drive made for larger boxes or fewer drives."
    )
    return measured("drives_per_box", drive.code, drive_count, drive.max_per_box, text)


def ports_needed(brief: Brief, board: Board, drive_count: int) -> int:
    """Return how many SATA ports drives need, with the solid-state drives for which the board has no M.2 slot."""
    return drive_count + max(brief.ssd_count - board.m2_slots, 0)


def chosen_controllers(
    enclosure: Enclosure, brief: Brief, board: Board, drive_count: int, controllers: Sequence[AirCooledPart]
) -> tuple[AirCooledPart, ...] | None:
    """Return the storage controllers that a build's drives force; None where no slot is left for enough of them."""
    slots = controller_slots(enclosure, brief, board)
    return choose_controllers(ports_needed(brief, board, drive_count), board.sata_ports, controllers, slots)


def controller_ports(
    enclosure: Enclosure, brief: Brief, board: Board, drive_count: int, controllers: Sequence[AirCooledPart]
) -> Misfit | None:
    """Check that board and controllers give every drive a port within the slots that are left."""
    if chosen_controllers(enclosure, brief, board, drive_count, controllers) is not None:
        return None
    needed, slots = ports_needed(brief, board, drive_count), max(controller_slots(enclosure, brief, board), 0)
    added = most_ports(controllers, slots)
    text = (
        f"{board.code} has {board.sata_ports} drive ports and controllers in {slots} free slots add at most {added}; "
        f"drives need {needed}: use fewer, larger drives or fewer cards."
    )
    return measured("controller_ports", board.code, needed, board.sata_ports + added, text)


def cooler_socket(cooler: Cooler, brief: Brief) -> Misfit | None:
    """Check the cooler's sockets, where the brief names one."""
    if not brief.processor_socket or brief.processor_socket in cooler.sockets:
        return None
    text = (
        f"{cooler.code} fits {len(cooler.sockets)} sockets ({', '.join(cooler.sockets)}); the processor has "
        f"{brief.processor_socket}: choose a cooler for that socket."
    )
    return unlike("cooler_socket", cooler.code, brief.processor_socket, cooler.sockets, text)


def cooler_height(enclosure: Enclosure, cooler: Cooler) -> Misfit | None:
    """Check that the cooler fits under the side panel."""
    height, limit = cooler.height_m, enclosure.cooler_height_m
    if height <= limit + SIZE_TOLERANCE_M:
        return None
    text = (
        f"{cooler.code} is {mm(height)} high, {mm(height - limit)} more than {enclosure.code} has room for "
        f"({mm(limit)}): choose a lower cooler."
    )
    return measured("cooler_height", cooler.code, height, limit, text)


def supply_form(enclosure: Enclosure, supply: Supply) -> Misfit | None:
    """Check that the enclosure takes a supply of the form."""
    if supply.form in enclosure.supply_forms:
        return None
    listed = ", ".join(enclosure.supply_forms)
    text = (
        f"{enclosure.code} takes supplies of the forms {listed}, up to {mm(enclosure.supply_length_m)} long; "
        f"{supply.code} is {supply.form}: choose one of those forms."
    )
    return unlike("supply_form", supply.code, supply.form, enclosure.supply_forms, text)


def supply_length(enclosure: Enclosure, supply: Supply) -> Misfit | None:
    """Check the length of the supply."""
    length, limit = supply.length_m, enclosure.supply_length_m
    if length <= limit + SIZE_TOLERANCE_M:
        return None
    text = (
        f"{supply.code} is {mm(length)} long, {mm(length - limit)} more than {enclosure.code} has room for "
        f"({mm(limit)}): choose a shorter supply."
    )
    return measured("supply_length", supply.code, length, limit, text)


def supply_rating(supply: Supply, peak_w: float, peak_12v_w: float) -> Misfit | None:
    """Check the peak draw against the headroom below the rating, in all and at 12 V; the worse of both is told."""
    loads = ((peak_w, supply.rating_w, "in all"), (peak_12v_w, supply.rating_12v_w, "at 12 V"))
    load, rating, where = max(loads, key=lambda one: one[0] - SUPPLY_HEADROOM * one[1])
    limit = SUPPLY_HEADROOM * rating
    if load <= limit:
        return None
    text = (
        f"{supply.code} is rated {rating:g} W {where}; at full load the build draws {load:.0f} W, more than "
        f"{100 * SUPPLY_HEADROOM:.0f} % of that ({limit:.0f} W): choose a supply with a higher rating."
    )
    return measured("supply_rating", supply.code, load, limit, text)


def supply_surge(supply: Supply, plan: SpinUpPlan) -> Misfit | None:
    """Check that the drives can start, one at a time if need be."""
    if plan.possible:
        return None
    text = (
        f"{supply.code} delivers {plan.limit_w_12v:g} W at 12 V; starting the drives {plan.group_size} at a time takes "
        f"{plan.peak_w_12v:.0f} W: choose a supply with a higher 12 V rating or fewer drives."
    )
    return measured("supply_surge", supply.code, plan.peak_w_12v, plan.limit_w_12v, text)
