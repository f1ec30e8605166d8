"""The parts of an indoor unit, its room and the cable to it; see ``parts`` for what the values mean."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import inf
from typing import Literal

from tests.field.machine.parts import Board, Coil, Contact, FanMotor, Sensor, Works


@dataclass
class Cable:
    """Between an indoor and the outdoor unit: conductors 1, 2 (supply) and 3 (signal).

    ``order`` tells at which indoor terminal each outdoor conductor ends; ``short_23_ohm`` joins 2 and 3.
    """

    conductor_ohm: tuple[float, float, float] = (0.15, 0.15, 0.15)
    order: tuple[int, int, int] = (0, 1, 2)
    short_23_ohm: float = inf
    insulation_mohm: float = 900.0
    splice: Contact | None = None
    route: Literal["apart", "beside", "unearthed"] = "apart"
    screw: Contact = field(default_factory=Contact)
    feed_screw: Contact = field(default_factory=Contact)


@dataclass
class Drain:
    """From the pan to the end of the hose."""

    plug: float = 0.0
    run: Literal["falls", "rises", "kinked", "drowned"] = "falls"
    trap: Literal["none", "full", "empty", "choked"] = "none"
    tilt: Literal["level", "to-drain", "away"] = "level"
    frozen: bool = False
    wall: Literal["sealed", "gap", "inwards"] = "sealed"
    animal: bool = False
    slime: bool = False
    pan: Literal["sound", "cracked"] = "sound"


@dataclass
class Pump:
    """Condensate pump and float switch (contact opens when the float rises)."""

    motor: Literal["works", "jammed", "dead"] = "works"
    lift_blocked: bool = False
    wire_ohm: tuple[float, float] = (0.2, 0.2)
    float_moves: bool = True
    float_contact_ohm: float = 0.3


@dataclass
class Panel:
    """How the indoor unit is seen and told: display, remote, receiver, adapter."""

    display: Literal["works", "dead"] = "works"
    display_plug: Contact = field(default_factory=Contact)
    remote: Literal["works", "battery", "locked"] = "works"
    receiver: Works = "works"
    adapter: Literal["seated", "crooked", "missing"] = "missing"
    vane: Literal["works", "stuck"] = "works"
    gas_sensor: Literal["none", "works", "false-alarm"] = "none"
    wired_schedule: bool = False


@dataclass
class Settings:
    """What the zone is told to do."""

    mode: Literal["cooling", "heating", "automatic", "dry", "fan"] = "cooling"
    setpoint_c: float = 22.0
    timer: bool = False
    quiet: bool = False


@dataclass
class Room:
    """The room: its load as a share of the zone's capacity at design weather, and what stands in the way."""

    load: float = 0.7
    space: Literal["free", "blocked"] = "free"
    sensor_place: Literal["free", "sun", "draught", "covered"] = "free"


@dataclass
class IndoorUnit:
    """One zone indoors."""

    board: Board = field(default_factory=Board)
    fan: FanMotor = field(default_factory=FanMotor)
    filter_dirt: float = 0.1
    wheel_dirt: float = 0.05
    duct_static: float = 0.0
    coil: Coil = field(default_factory=Coil)
    sensors: dict[str, Sensor] = field(default_factory=dict)
    drain: Drain = field(default_factory=Drain)
    pump: Pump | None = None
    panel: Panel = field(default_factory=Panel)
    settings: Settings = field(default_factory=Settings)
    room: Room = field(default_factory=Room)
    cable: Cable = field(default_factory=Cable)
    capacity_kw: float = 3.5
    cover_rattles: bool = False
