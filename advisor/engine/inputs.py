"""What the engine is given: frozen records in SI units, temperatures in degrees Celsius.

The only way in is ``advisor.assembly``, which turns catalogue rows into these records. Lengths are in
metres, areas in m2, flows in m3/s, pressures in Pa, powers in W, sound power and pressure levels in dB
(A-weighted, re 1 pW and 20 uPa), speeds of fans in revolutions per minute. A field that ends in ``_u`` is
one standard uncertainty; ``_u_rel`` is relative. Axes: x to the right, y to the rear, z up, seen from the
front of the upright enclosure, with the origin at its lower front left corner.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.engine.curves import FanCurve, Point

OUTSIDE = "outside"
FACES = ("front", "rear", "left", "right", "top", "bottom")
INNER = "inner"
SCENARIOS = ("idle", "working", "full_load", "hot_day", "rebuild")
SIDES = ("intake", "exhaust")


@dataclass(frozen=True, slots=True)
class Filter:
    """A filter's loss on its own face: ``dp = linear*v + quadratic*v*|v|`` with v = Q / area."""

    code: str
    area_m2: float
    linear_pa_s_m: float
    quadratic_pa_s2_m2: float
    loss_u_rel: float = 0.4


@dataclass(frozen=True, slots=True)
class Zone:
    """A well-mixed volume of air. ``wall_w_k`` is the conductance of its outer panels to the room."""

    code: str
    position: tuple[float, float, float]
    wall_w_k: float
    wall_u_rel: float = 0.3


@dataclass(frozen=True, slots=True)
class Opening:
    """A way for air from one zone (or ``outside``) to another; it is meant to blow from -> to.

    ``kind`` is one of ``fan_mount``, ``vent``, ``passage``, ``cage``, ``leak``, ``supply``, ``blower``. The
    quadratic loss is ``loss_coefficient`` velocity heads on ``area_m2``. A ``fan_mount`` holds ``fan_count``
    fans of ``fan_size_m``; a ``cage`` takes its area and loss from its bay groups and what fills them; a
    ``supply`` and a ``blower`` pass air through a part. ``two_way`` says that neither direction is wrong.
    """

    code: str
    kind: str
    from_zone: str
    to_zone: str
    position: tuple[float, float, float]
    height_m: float
    face: str
    area_m2: float
    loss_coefficient: float
    area_u_rel: float = 0.2
    two_way: bool = False
    filter: Filter | None = None
    side: str = ""
    fan_size_m: float = 0.0
    fan_count: int = 0
    may_be_empty: bool = False
    obstruction_db: float = 0.0
    narrowed_beyond_m: float = 0.0
    narrowed_share: float = 0.0


@dataclass(frozen=True, slots=True)
class BayGroup:
    """Like bays in one place, filled in the order in which an enclosure lists its groups.

    ``opening`` names the cage opening whose air passes these bays, or is empty where the drives hang in the
    still air of ``zone``. Losses are velocity heads: on the gaps of filled bays (``gap_area_m2`` each) and on
    the clear area of empty ones. ``rows`` counts drives one behind the other along the air;
    ``maldistribution`` is mean over slowest gap velocity.
    """

    code: str
    form: str
    count: int
    zone: str
    opening: str
    gap_area_m2: float
    empty_area_m2: float
    loss_filled: float
    loss_empty: float
    rows: int = 1
    maldistribution: float = 1.2
    maldistribution_u: float = 0.1
    hot_swap: bool = False
    tool_free: bool = False


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a component sits and what air it gets.

    ``role`` is one of ``processor``, ``graphics``, ``board``, ``memory``, ``ssd``, ``card``, ``controller``.
    ``preheat`` is the factor kappa of METHODS.md with log standard deviation ``preheat_u_log``; ``fed_by``
    names the opening that feeds it directly (kappa below 1), or is empty. ``cross_area_m2`` is the free
    cross-section of the air past it, which turns the zone's flow into a speed.
    """

    role: str
    zone: str
    preheat: float
    cross_area_m2: float
    preheat_u_log: float = 0.3
    fed_by: str = ""


@dataclass(frozen=True, slots=True)
class Service:
    """Ease-of-service facts."""

    tool_free_bays: bool
    filters_reachable: bool
    fan_control_outside: bool
    cable_space_m: float
    front_ports: int


@dataclass(frozen=True)
class Enclosure:
    """An enclosure as zones and openings, with what fits into it and how sound leaves it.

    ``insertion_loss_db`` maps each face to its A-weighted loss; ``sound_shares`` maps a place (a fan mount's
    opening code, or ``processor``, ``graphics``, ``drives``, ``supply``) to its shares over faces, which sum to 1.
    ``supply_opening`` is the code of the supply's through-flow opening.
    """

    code: str
    name: str
    kind: str
    size_m: tuple[float, float, float]
    mass_kg: float
    price: float
    zones: tuple[Zone, ...]
    openings: tuple[Opening, ...]
    bay_groups: tuple[BayGroup, ...]
    seats: tuple[Seat, ...]
    board_forms: tuple[str, ...]
    cooler_height_m: float
    card_length_m: float
    card_slots: int
    supply_forms: tuple[str, ...]
    supply_length_m: float
    supply_opening: str
    insertion_loss_db: dict[str, float]
    sound_shares: dict[str, dict[str, float]]
    service: Service
    insertion_loss_u: float = 1.5
    orientations: tuple[str, ...] = ("upright",)
    measured: bool = False


@dataclass(frozen=True)
class Fan:
    """A case fan. ``sound`` holds (rpm, A-weighted sound power level) readings, slowest first.

    ``control`` is ``temperature`` (any speed from slowest to full, per scenario) or ``switch`` (one of
    ``steps_rpm``, the same in all scenarios). ``may_stop`` allows the fan to rest.
    """

    code: str
    name: str
    size_m: float
    thickness_m: float
    curve: FanCurve
    min_rpm: float
    max_rpm: float
    control: str
    sound: tuple[Point, ...]
    power_w: float
    price: float
    steps_rpm: tuple[float, ...] = ()
    may_stop: bool = False
    life_h: float = 50_000.0
    flow_u_rel: float = 0.08
    sound_u_db: float = 1.0


@dataclass(frozen=True)
class Cooler:
    """A processor cooler: ``R_solid + R_air * (rpm/max_rpm)^-m * (Q/Q_ref)^-n * (rho/rho_ref)^-0.7`` in K/W.

    ``r_air_k_w`` holds at its own full speed, at Q_ref and rho_ref of ``constants``; ``max_rpm`` 0 means no fan.
    ``r_u_rel`` applies to R_solid and R_air together.
    """

    code: str
    name: str
    height_m: float
    sockets: tuple[str, ...]
    r_solid_k_w: float
    r_air_k_w: float
    speed_exponent: float
    flow_exponent: float
    min_rpm: float
    max_rpm: float
    control: str
    sound: tuple[Point, ...]
    power_w: float
    price: float
    steps_rpm: tuple[float, ...] = ()
    r_u_rel: float = 0.06
    flow_exponent_u: float = 0.05
    speed_exponent_u: float = 0.05
    sound_u_db: float = 1.0


@dataclass(frozen=True)
class Supply:
    """A power supply. ``efficiency`` holds (share of rating, efficiency) points; ``sound`` (share, sound power).

    ``speed_steps`` holds (up to this share of rating, speed as a share of full), a step function, 0 meaning
    the fan rests. ``air_path`` names the fan curve that several supplies share; ``path_area_m2`` and
    ``path_loss`` are the loss of the case of the supply itself.
    """

    code: str
    name: str
    form: str
    length_m: float
    rating_w: float
    rating_12v_w: float
    efficiency: tuple[Point, ...]
    sound: tuple[Point, ...]
    air_path: str
    curve: FanCurve
    speed_steps: tuple[Point, ...]
    path_area_m2: float
    path_loss: float
    price: float
    sound_u_db: float = 1.5
    efficiency_u: float = 0.01


@dataclass(frozen=True)
class Drive:
    """A drive with moving parts or not; ``surface_m2`` sheds its heat. Sound power per drive."""

    code: str
    name: str
    form: str
    capacity_tb: float
    idle_w: float
    seek_w: float
    spin_up_a: float
    spin_up_s: float
    idle_sound_db: float
    seek_sound_db: float
    limit_c: float
    yearly_failure_rate: float
    read_error_rate: float
    max_per_box: int
    price: float
    surface_m2: float
    transfer_mb_s: float = 200.0
    power_u_rel: float = 0.05
    sound_u_db: float = 1.5


@dataclass(frozen=True, slots=True)
class AirCooledPart:
    """Heat that wants moving air: a solid-state drive, an add-in card or a storage controller.

    At ``needed_air_m_s`` it runs ``rise_k`` above its local air at ``heat_w``.
    """

    code: str
    name: str
    heat_w: float
    needed_air_m_s: float
    rise_k: float
    limit_c: float
    price: float = 0.0
    ports: int = 0
    slots: int = 0
    capacity_tb: float = 0.0
    rise_u_rel: float = 0.15


@dataclass(frozen=True, slots=True)
class Adapter:
    """Puts ``drives`` drives of ``to_form`` into ``bays`` bays of ``from_form``; areas and losses as in BayGroup."""

    code: str
    name: str
    from_form: str
    bays: int
    to_form: str
    drives: int
    gap_area_m2: float
    loss_filled: float
    price: float
    hot_swap: bool = False


@dataclass(frozen=True, slots=True)
class Processor:
    """A processor as heat: ``inner_k_w`` is the chip-to-lid resistance."""

    code: str
    name: str
    heat_w: float
    inner_k_w: float
    limit_c: float
    socket: str = ""
    inner_u_rel: float = 0.15
    heat_u_rel: float = 0.04
    price: float = 0.0


@dataclass(frozen=True, slots=True)
class Graphics:
    """A graphics board with its own fans: ``r_k_w`` chip to the air at it, ``sound`` (load share, sound power)."""

    code: str
    name: str
    heat_w: float
    r_k_w: float
    limit_c: float
    airflow: str
    length_m: float
    slots: int
    sound: tuple[Point, ...]
    curve: FanCurve | None = None
    r_u_rel: float = 0.1
    flow_exponent: float = 0.07
    flow_exponent_u: float = 0.05
    heat_u_rel: float = 0.04
    sound_u_db: float = 2.0
    price: float = 0.0


@dataclass(frozen=True, slots=True)
class Board:
    """A main board as ports and heat (chip set, regulators, memory apart)."""

    code: str
    name: str
    form: str
    heat_w: float
    sata_ports: int
    m2_slots: int
    card_slots: int
    socket: str = ""
    price: float = 0.0


@dataclass(frozen=True, slots=True)
class Ups:
    """A UPS unit: runtime points are (load in W, minutes)."""

    code: str
    name: str
    rating_w: float
    runtime: tuple[Point, ...]
    price: float


@dataclass(frozen=True)
class Catalogue:
    """Everything a study may choose from, each kind sorted by code."""

    enclosures: tuple[Enclosure, ...] = ()
    fans: tuple[Fan, ...] = ()
    coolers: tuple[Cooler, ...] = ()
    supplies: tuple[Supply, ...] = ()
    drives: tuple[Drive, ...] = ()
    adapters: tuple[Adapter, ...] = ()
    controllers: tuple[AirCooledPart, ...] = ()
    ssds: tuple[AirCooledPart, ...] = ()
    cards: tuple[AirCooledPart, ...] = ()
    processors: tuple[Processor, ...] = ()
    graphics: tuple[Graphics, ...] = ()
    boards: tuple[Board, ...] = ()
    ups_units: tuple[Ups, ...] = ()


@dataclass(frozen=True)
class Brief:
    """What someone needs, checked and with every default filled in; see ``advisor.brief`` for the outer form."""

    processor_watts: float
    board_form: str
    noise_target_dba: float
    drive_count: int | None = None
    usable_capacity_tb: float | None = None
    title: str = ""
    graphics_watts: float = 0.0
    graphics_count: int = 0
    graphics_length_m: float = 0.0
    graphics_slots: int = 0
    graphics_airflow: str = "open"
    graphics_noise_dba: float = 0.0
    processor_socket: str = ""
    drive_form: str = "3.5"
    drive_capacity_tb: float | None = None
    layout: str = "none"
    hot_spares: int = 0
    spare_bays: int = 0
    hot_swap: bool = False
    ssd_count: int = 1
    card_count: int = 0
    seat_distance_m: float = 1.0
    seat_side: str = "front"
    room_background_dba: float = 25.0
    room_absorption_m2: float = 10.0
    orientation: str = "upright"
    placement: str = "open"
    max_width_m: float | None = None
    max_height_m: float | None = None
    max_depth_m: float | None = None
    ambient_c: float = 22.0
    hot_day_c: float = 30.0
    altitude_m: float = 0.0
    limit_processor_c: float = 85.0
    limit_graphics_c: float = 83.0
    limit_drive_c: float = 45.0
    confidence: float = 0.9
    noise_scenarios: tuple[str, ...] = ("idle", "working")
    ups_minutes: float = 0.0
    energy_price: float = 0.30
    budget: float | None = None
    currency: str = "EUR"
    weights: dict[str, float] = field(default_factory=dict)
    required_parts: tuple[str, ...] = ()
    excluded_parts: tuple[str, ...] = ()
