"""Power and storage of a build in answers."""

from __future__ import annotations

from advisor.engine.storage.layouts import LAYOUTS
from api.schema.predictions import SHARE, by_scenario
from api.schema.shapes import Schema, by_name, flag, many, number, one_of, or_null, record, text, whole

POWER = record(
    "Power and energy.",
    scenarios=by_scenario(
        record(
            "Power in one scenario.",
            draw_w=by_name(number("Draw.", "W", minimum=0), "What each kind of part draws."),
            load_w=number("Load of the supply.", "W", minimum=0),
            load_share=number("The same as a share of its rating.", minimum=0),
            efficiency=number("Its efficiency.", **SHARE),
            wall_w=number("Draw from the wall.", "W", minimum=0),
            loss_w=number("Heat of the supply.", "W", minimum=0),
            extrapolated=flag("Whether the load is below the least at which the efficiency was measured."),
        ),
        "Power",
    ),
    yearly_kwh=number("Energy of a year.", "kWh", minimum=0),
    yearly_cost=number("What that costs, in the brief's currency.", minimum=0),
    duty=by_name(number("Share of the time.", **SHARE), "How the year was taken to be spent, by scenario."),
    spin_up=or_null(
        record(
            "How the drives start; null without drives.",
            possible=flag("Whether the supply can start them at all."),
            group_size=whole("Drives that start together.", minimum=1),
            groups=whole("Groups that start one after the other.", minimum=1),
            peak_w_12v=number("Highest draw at 12 V meanwhile.", "W", minimum=0),
            limit_w_12v=number("What the supply can give at 12 V.", "W", minimum=0),
            interval_s=number("Time from group to group.", "s", minimum=0),
            seconds=number("Time until all turn.", "s", minimum=0),
        )
    ),
    ups=or_null(
        record(
            "The UPS unit; null where none is asked for.",
            unit=or_null(text("Its code; null where none suffices.")),
            name=text("Its name."),
            minutes=or_null(number("How long it carries the load.", "min", minimum=0)),
            load_w=number("The load when working.", "W", minimum=0),
            price=or_null(number("Its price, in the brief's currency.", minimum=0)),
            reason=text("A sentence on that choice."),
        )
    ),
)
STORAGE = record(
    "What the layout of the drives is worth. These figures replace no backup.",
    layout=one_of(LAYOUTS, "The layout."),
    drives=whole("All drives, hot spares included.", minimum=1),
    hot_spares=whole("Of them hot spares.", minimum=0),
    raw_tb=number("Capacity of all drives.", "TB", minimum=0),
    usable_tb=number("Usable capacity.", "TB", minimum=0),
    efficiency=number("Usable share.", **SHARE),
    failures_tolerated=whole("Failed drives that lose no data, whichever they are.", minimum=0),
    rebuild_h=or_null(number("Time of a rebuild; null where nothing can be rebuilt.", "h", minimum=0)),
    loss_in_rebuild=number("Chance of loss once a drive has failed.", **SHARE),
    mttdl_years=number("Mean time to data loss.", "a", minimum=0),
    loss_5_years=number("Chance of loss within five years.", **SHARE),
    assumptions=many(text("A sentence."), "What these figures rest on."),
)

COMPONENTS: dict[str, Schema] = {"Power": POWER, "Storage": STORAGE}
