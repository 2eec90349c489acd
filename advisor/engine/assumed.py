"""Parts assumed where a brief names none: estimates of the trade with wide uncertainties (common practice, no
source).
"""

from __future__ import annotations

from advisor.engine.inputs import AirCooledPart, Brief, FanCurve, Graphics, Processor

SSD = AirCooledPart(
    "assumed_ssd", "assumed solid-state drive", heat_w=5.0, needed_air_m_s=0.5, rise_k=25.0, limit_c=75.0
)
CARD = AirCooledPart(
    "assumed_card", "assumed add-in card", heat_w=10.0, needed_air_m_s=1.0, rise_k=35.0, limit_c=90.0, slots=1
)

# A graphics board's chip runs about as warm at any rating: R falls as the cooler grows with the heat.
_GRAPHICS_RISE_K = 45.0
# Sound of a board's own fans below full load [dB from full], by share of load.
_GRAPHICS_SOUND = ((0.0, -20.0), (0.5, -8.0), (1.0, 0.0))
_GRAPHICS_FULL_DB = 44.0  # sound power of an open board at full load where the brief gives none
PRESSURE_TO_POWER_DB = 8.0  # level at 1 m over a hard plane to sound power: 10 log10(2 pi)

# A blower board's own fan at full load.
BLOWER_CURVE = FanCurve(
    ((0.0, 250.0), (0.004, 225.0), (0.008, 180.0), (0.012, 110.0), (0.016, 20.0), (0.0168, 0.0)), speed_rpm=4000.0
)
BLOWER_IDLE_SPEED = 0.35  # share of full speed at no load; it rises evenly to full


def processor(brief: Brief) -> Processor:
    """Return the processor assumed for a brief that names none."""
    return Processor(
        "assumed_processor", "processor of the brief", brief.processor_watts, inner_k_w=0.12,
        limit_c=brief.limit_processor_c, socket=brief.processor_socket, inner_u_rel=0.3,
    )  # fmt: skip


def graphics(brief: Brief) -> Graphics:
    """Return the graphics board assumed for a brief that gives only its heat, size and noise at 1 m."""
    full = brief.graphics_noise_dba + PRESSURE_TO_POWER_DB if brief.graphics_noise_dba > 0 else _GRAPHICS_FULL_DB
    return Graphics(
        "assumed_graphics", "graphics board of the brief", brief.graphics_watts,
        r_k_w=_GRAPHICS_RISE_K / max(brief.graphics_watts, 1.0), limit_c=brief.limit_graphics_c,
        airflow=brief.graphics_airflow, length_m=brief.graphics_length_m, slots=brief.graphics_slots,
        sound=tuple((share, full + drop) for share, drop in _GRAPHICS_SOUND), curve=BLOWER_CURVE, r_u_rel=0.15,
    )  # fmt: skip
