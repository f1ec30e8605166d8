"""Three families of units, wired and built as such machines are. Makes and models are invented.

- *solo*: single zone, R-32, two legs 240 V, DC fans, electronic valve, signal on a third wire.
- *trio*: three zones, R-410A, one valve a zone outdoors, condensate pump and float switch, 24 V signal.
- *basic*: single zone, R-410A, AC indoor fan with run capacitor, fixed expansion, boosted bus, 5 V signal;
  built for 208-230 V or for 115 V.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Literal

from tests.field.machine.indoor_parts import Drain, IndoorUnit, Panel, Pump
from tests.field.machine.parts import (
    Board,
    Body,
    Branch,
    Breaker,
    Compressor,
    Contact,
    ExpansionValve,
    FanMotor,
    House,
    Lines,
    Module,
    OutdoorUnit,
    PowerStage,
    PressureSwitch,
    Refrigerant,
    ReversingValve,
    Sensor,
    Supply,
)

Family = Literal["solo", "trio", "basic"]


@dataclass(frozen=True)
class Plate:
    """What the name plate and the manual say; the program's profile is written from it."""

    family: Family
    model: str
    system: str
    nominal_v: float
    fluid: str
    charge_kg: float
    running_a: float
    signal_v: float
    free_length_m: float = 7.5
    added_g_per_m: float = 20.0
    longest_m: float = 25.0
    highest_m: float = 12.0
    outdoor_air_kg_s: float = 0.58
    shows_sensors: bool = False
    earth_fault_supply: bool = False
    boosted: bool = False
    sensor_r25: dict[str, float] = field(default_factory=dict)


@dataclass
class Machine:
    """A whole installation. ``at`` is the zone that the visit is about."""

    plate: Plate
    supply: Supply
    breaker: Breaker
    branch: Branch
    outdoor: OutdoorUnit
    zones: list[IndoorUnit]
    refrigerant: Refrigerant
    lines: Lines
    house: House
    #: the zone that each branch port's pipes lead to, and that each signal terminal's cable leads to
    pipes_to: tuple[int, ...] = (0,)
    cables_to: tuple[int, ...] = (0,)
    at: int = 0

    @property
    def zone(self) -> IndoorUnit:
        return self.zones[self.at]

    @property
    def valve(self) -> ExpansionValve:
        """The expansion valve of the visit's zone."""
        return self.outdoor.valves[self.at if len(self.outdoor.valves) > 1 else 0]

    def copy(self) -> Machine:
        return copy.deepcopy(self)


def get(machine: Machine, path: str) -> Any:
    """The value at a dotted path; ``zone`` is the zone of the visit, numbers and names index lists and dicts."""
    here: Any = machine
    for name in path.split("."):
        here = (
            here[int(name)] if isinstance(here, list) else here[name] if isinstance(here, dict) else _attr(here, name)
        )
    return here


def put(machine: Machine, path: str, value: object) -> None:
    """Set the value at a dotted path. Raises AttributeError for a part or value that this machine has not."""
    *way, last = path.split(".")
    here = get(machine, ".".join(way)) if way else machine
    if isinstance(here, list):
        here[int(last)] = value
    elif isinstance(here, dict):
        here[last] = value
    else:
        _attr(here, last)
        setattr(here, last, value)


def _attr(here: object, name: str) -> Any:
    return getattr(here, name)


def _sensors(r25: float, *names: str) -> dict[str, Sensor]:
    return {name: Sensor(r25_ohm=r25, beta_k=3950 if r25 < 20e3 else 3980) for name in names}


def _outdoor_sensors(r25: float, hot_r25: float) -> dict[str, Sensor]:
    sensors = _sensors(r25, "outdoor", "coil", "suction")
    return sensors | {"discharge": Sensor(r25_ohm=hot_r25, beta_k=3970)}


def solo(volts: Literal[240, 230] = 240) -> Machine:
    system = "split-phase-240" if volts == 240 else "single-phase-230"
    plate = Plate(
        "solo", f"Solo 35 for {volts}", system, volts, "R32", 1.0, 6.5, 48.0,
        shows_sensors=True,
        sensor_r25={"room": 10e3, "pipe": 10e3, "outdoor": 10e3, "suction": 10e3, "discharge": 50e3},
    )  # fmt: skip
    outdoor = OutdoorUnit(
        power=PowerStage(bus_uf=1560, bleed_ohm=68e3, soft_start_ohm=47, standby_cut=True),
        module=Module(place="main"),
        compressor=Compressor(phase_ohm=(0.66, 0.66, 0.66)),
        fan=FanMotor(top_rpm=860, supply_kohm=420),
        valves=[ExpansionValve()],
        sensors=_outdoor_sensors(10e3, 50e3),
    )
    zone = IndoorUnit(
        fan=FanMotor(top_rpm=1250),
        sensors=_sensors(10e3, "room", "pipe"),
        panel=Panel(adapter="seated"),
        capacity_kw=3.5,
    )
    supply = Supply() if volts == 240 else Supply(leg_v=(230.0, 0.0), service_ohm=0.25, frequency_hz=50)
    return Machine(plate, supply, Breaker(rating_a=20), Branch(), outdoor, [zone], Refrigerant("R32"), Lines(), House())


def trio() -> Machine:
    plate = Plate(
        "trio", "Trio 80", "split-phase-240", 240, "R410A", 2.8, 15.0, 24.0,
        free_length_m=22.5, longest_m=60.0, highest_m=15.0, outdoor_air_kg_s=1.1, earth_fault_supply=True,
        sensor_r25={"room": 15e3, "pipe": 15e3, "outdoor": 15e3, "suction": 15e3, "discharge": 50e3},
    )  # fmt: skip
    outdoor = OutdoorUnit(
        power=PowerStage(bus_uf=2700, bleed_ohm=47e3, soft_start_ohm=33, soft_start_after_bridge=True),
        module=Module(place="own", may_run_alone=True),
        compressor=Compressor(phase_ohm=(0.36, 0.36, 0.36), crankcase_ohm=1900.0),
        fan=FanMotor(top_rpm=820, supply_kohm=350),
        valves=[ExpansionValve(), ExpansionValve(), ExpansionValve()],
        valve_plugs=(0, 1, 2),
        reversing=ReversingValve(coil_ohm=1350),
        low_switch=PressureSwitch(opens_kpa=70, closes_kpa=200),
        body=Body(base_heater_ohm=480.0),
        sensors=_outdoor_sensors(15e3, 50e3),
    )
    zones = [
        IndoorUnit(
            fan=FanMotor(top_rpm=1200),
            sensors=_sensors(15e3, "room", "pipe"),
            pump=Pump(),
            drain=Drain(trap="full"),
            capacity_kw=kw,
        )
        for kw in (2.5, 2.5, 3.5)
    ]
    return Machine(
        plate, Supply(service_ohm=0.04), Breaker(rating_a=30, earth_fault_ma=30), Branch(wire_ohm=0.05), outdoor, zones,
        Refrigerant("R410A"), Lines(length_m=18, added_kg=0.0, height_m=3, rise_m=3), House(),
        pipes_to=(0, 1, 2), cables_to=(0, 1, 2),
    )  # fmt: skip


def basic(volts: Literal[208, 115] = 208) -> Machine:
    low = volts == 115
    plate = Plate(
        "basic", "Basic 26" if low else "Basic 35", "single-phase-115" if low else "wye-208", volts, "R410A",
        0.8 if low else 0.95, 10.0 if low else 7.0, 5.0, boosted=True, added_g_per_m=15.0,
        sensor_r25={"room": 5e3, "pipe": 5e3, "outdoor": 5e3, "suction": 5e3, "discharge": 20e3},
    )  # fmt: skip
    outdoor = OutdoorUnit(
        power=PowerStage(
            bus_uf=1900, bleed_ohm=100e3, soft_start_ohm=40, boost="works", boost_v=300.0 if low else 370.0
        ),
        module=Module(place="main", kind="wide-gap"),
        board=Board(lamps=False),
        compressor=Compressor(phase_ohm=(0.95, 0.95, 0.95), overload_ohm=None),
        fan=FanMotor(top_rpm=840, supply_kohm=610),
        valves=[ExpansionValve(fixed=True)],
        reversing=ReversingValve(coil_ohm=420 if low else 1600),
        sensors=_outdoor_sensors(5e3, 20e3),
    )
    zone = IndoorUnit(
        fan=FanMotor(kind="ac", top_rpm=1150, pulses_per_turn=3, winding_ohm=90 if low else 190, capacitor_uf=1.5),
        sensors=_sensors(5e3, "room", "pipe"),
        panel=Panel(),
        drain=Drain(trap="none"),
        capacity_kw=2.6 if low else 3.5,
    )
    leg = (118.0, 0.0) if low else (120.0, 120.0)
    return Machine(
        plate, Supply(leg_v=leg), Breaker(rating_a=20 if low else 15), Branch(screw=Contact()), outdoor, [zone],
        Refrigerant("R410A"), Lines(), House(),
    )  # fmt: skip


BUILD: dict[str, Callable[[], Machine]] = {
    "solo-240": solo,
    "solo-230": lambda: solo(230),
    "trio": trio,
    "basic-208": basic,
    "basic-115": lambda: basic(115),
}
