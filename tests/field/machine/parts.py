"""The parts of a unit and its surroundings, each with the physical values that a fault can change.

Defaults are a sound part; ``units`` sets what differs by family. Resistances in ohm unless a name says otherwise;
``inf`` is an open circuit. Shares run from 0 to 1. Values are typical of such machines, from memory.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Works = Literal["works", "dead"]
PlugState = Literal["firm", "loose", "burnt"]
SOUND_MOHM = 500.0


@dataclass
class Contact:
    """A plug, screw or splice: its resistance, how it looks, and the share of time that it is open."""

    ohm: float = 0.004
    state: PlugState = "firm"
    flaky: float = 0.0


@dataclass
class Supply:
    """The house's supply as it reaches the panel.

    ``leg_v``: each line conductor against earth, no load. ``service_ohm``: of each conductor up to the panel.
    """

    leg_v: tuple[float, float] = (120.0, 120.0)
    service_ohm: float = 0.06
    lost_leg: Literal[0, 1, 2] = 0
    frequency_hz: float = 60.0
    waveform: Literal["clean", "rough"] = "clean"


@dataclass
class Breaker:
    """Thermal-magnetic, with earth-fault trip where ``earth_fault_ma`` is given; ``tired`` trips below its rating."""

    rating_a: float = 20.0
    strength: float = 1.0
    earth_fault_ma: float | None = None
    position: Literal["on", "off", "tripped"] = "on"


@dataclass
class Branch:
    """From the panel to the outdoor terminals: wire, disconnect, screws."""

    wire_ohm: float = 0.07
    size: Literal["enough", "thin"] = "enough"
    pull_out_ohm: tuple[float, float] = (0.002, 0.002)
    screw: Contact = field(default_factory=Contact)
    neutral_ohm: float = 0.07
    brown: bool = False
    leak_ma: float = 0.0
    short: bool = False


@dataclass
class PowerStage:
    """Outdoor power electronics from the terminals to the motor leads."""

    fuse_ohm: float = 0.02
    varistor: Literal["sound", "short"] = "sound"
    earth_leak_ma: float = 1.2
    reactor_ohm: float = 0.18
    soft_start_ohm: float = 45.0
    soft_start_after_bridge: bool = False
    relay: Literal["works", "open", "welded"] = "works"
    bridge: tuple[str, str, str, str] = ("sound", "sound", "sound", "sound")
    boost: Literal["none", "works", "dead"] = "none"
    boost_v: float = 0.0
    capacitor_share: float = 1.0
    capacitor_top: Literal["flat", "bulged"] = "flat"
    bus_uf: float = 1500.0
    bleed_ohm: float = 68e3
    standby_cut: bool = False


@dataclass
class Module:
    """The inverter's six legs (upper U, V, W, lower U, V, W), its drivers and how it sheds its heat."""

    place: Literal["own", "main"] = "main"
    kind: Literal["silicon", "wide-gap"] = "silicon"
    legs: tuple[str, ...] = ("sound",) * 6
    drivers: Works = "works"
    seat: Literal["tight", "loose"] = "tight"
    may_run_alone: bool = False


@dataclass
class Board:
    """A control board: supply, rails, processor and what it drives."""

    rails: Works = "works"
    rail_15_v: float = 15.0
    rail_5_v: float = 5.0
    processor: Literal["works", "dead", "locked", "nonsense"] = "works"
    look: Literal["clean", "heat", "wet", "marks"] = "clean"
    settings: Literal["right", "wrong"] = "right"
    fan_supply: Works = "works"
    fan_command: Works = "works"
    valve_drive: Works = "works"
    reversing_drive: Works = "works"
    heater_drive: Works = "works"
    pump_drive: Works = "works"
    signal: Works = "works"
    signal_weak: float = 0.0
    fuse_ohm: float = 0.05
    lamps: bool = True
    display_v: float = 5.0


@dataclass
class FanMotor:
    """A fan: DC with its electronics inside (bus, 15 V, command, pulses), or AC with a run capacitor."""

    kind: Literal["dc", "ac"] = "dc"
    electronics: Literal["works", "open", "short"] = "works"
    supply_kohm: float = 480.0
    pulses: bool = True
    drag: float = 0.0
    blade: Literal["firm", "slips"] = "firm"
    plug: Contact = field(default_factory=Contact)
    supply_v: float = 310.0
    command_v: float = 4.8
    top_rpm: float = 1150.0
    pulses_per_turn: int = 4
    capacitor_share: float = 1.0
    capacitor_uf: float = 1.5
    winding_ohm: float = 190.0


@dataclass
class Compressor:
    """Windings by phase at 20 degC, insulation, rotor and pump."""

    phase_ohm: tuple[float, float, float] = (0.72, 0.72, 0.72)
    insulation_mohm: float = SOUND_MOHM
    rotor: Literal["free", "tight", "stuck"] = "free"
    pump: float = 1.0
    terminals: Literal["bright", "burnt"] = "bright"
    terminal_ohm: float = 0.0
    leads: Literal["right", "swapped"] = "right"
    overload_ohm: float | None = 0.3
    crankcase_ohm: float | None = None


@dataclass
class Sensor:
    """An NTC: R25 and Beta; ``factor`` its drift; ``seat`` where it sits; its plug."""

    r25_ohm: float = 10e3
    beta_k: float = 3950.0
    factor: float = 1.0
    broken: Literal["no", "open", "short"] = "no"
    seat: Literal["seated", "out"] = "seated"
    plug: Contact = field(default_factory=Contact)


@dataclass
class Coil:
    """A heat exchanger with fins: dirt, what blocks its air, ice."""

    dirt: float = 0.05
    behind_m: float = 0.5
    recirculation: float = 0.0


@dataclass
class ExpansionValve:
    """Electronic: four phases, seat of the coil, plug, and where the needle stands when it does not follow.

    A capillary has ``fixed`` true and no coil.
    """

    fixed: bool = False
    stuck_at: float | None = None
    sticky: bool = False
    phase_ohm: tuple[float, float, float, float] = (46.0, 46.0, 46.0, 46.0)
    coil: Literal["locked", "lifted"] = "locked"
    plug: Contact = field(default_factory=Contact)


@dataclass
class ReversingValve:
    """Coil and slide. Energised for heating. ``slide``: free, or stuck in a mode or half way."""

    coil_ohm: float = 1450.0
    wire_ohm: float = 0.2
    slide: Literal["free", "cooling", "heating", "half"] = "free"


@dataclass
class PressureSwitch:
    """Opens at ``opens_kpa`` gauge; ``contact`` can be stuck open; its two wires."""

    opens_kpa: float = 4200.0
    closes_kpa: float = 3200.0
    contact: Literal["works", "open"] = "works"
    wire_ohm: tuple[float, float] = (0.2, 0.2)


@dataclass
class Refrigerant:
    """What is in the circuit. ``charge``: share of what it should hold. ``air_kpa``: non-condensable, at 20 degC."""

    fluid: str = "R32"
    charge: float = 1.0
    air_kpa: float = 0.0
    wet: bool = False
    leak: str = ""
    oil_mark: bool = False


@dataclass
class Lines:
    """The pipes between the units, their valves and strainer. Restrictions are shares of the flow area lost."""

    length_m: float = 5.0
    height_m: float = 2.0
    rise_m: float = 2.0
    added_kg: float = 0.0
    label: Literal["added", "not-needed", "not-noted"] = "not-needed"
    kink: float = 0.0
    strainer: float = 0.0
    stems_open: float = 1.0
    trap: Literal["there", "not-asked", "missing"] = "not-asked"
    insulation: Literal["whole", "gaps"] = "whole"
    touches_wall: bool = False
    nuts: Literal["hold", "indoor", "outdoor"] = "hold"
    flare: Literal["even", "poor"] = "even"


@dataclass
class Body:
    """The outdoor unit's housing and what it stands on."""

    panel: Literal["firm", "rattles"] = "firm"
    feet: Literal["sound", "hard"] = "sound"
    pan_holes: Literal["free", "blocked"] = "free"
    base_heater_ohm: float | None = None
    snow: bool = False
    drip: bool = False
    animal: Literal["none", "nest", "insects"] = "none"


@dataclass
class OutdoorUnit:
    """The outdoor unit, one valve a zone (one for all in a single-zone unit)."""

    power: PowerStage = field(default_factory=PowerStage)
    module: Module = field(default_factory=Module)
    board: Board = field(default_factory=Board)
    compressor: Compressor = field(default_factory=Compressor)
    fan: FanMotor = field(default_factory=FanMotor)
    coil: Coil = field(default_factory=Coil)
    valves: list[ExpansionValve] = field(default_factory=list)
    valve_plugs: tuple[int, ...] = (0,)
    reversing: ReversingValve = field(default_factory=ReversingValve)
    high_switch: PressureSwitch = field(default_factory=PressureSwitch)
    low_switch: PressureSwitch | None = None
    transducer_offset_kpa: float = 0.0
    head_control: Literal["works", "none"] = "works"
    sensors: dict[str, Sensor] = field(default_factory=dict)
    body: Body = field(default_factory=Body)


@dataclass
class House:
    """What is around the machine and what happened before the visit."""

    history: Literal["never", "after-work", "by-itself"] = "by-itself"
    other_machine: bool = False
    worry: Literal["", "steam", "ticks"] = ""
