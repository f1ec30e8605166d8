"""The unit profile: what is known of one model of unit. Users write their own; shipped makes are invented."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from assistant.library.models import Slug
from assistant.model import Model


class Supply(Model):
    """Supply at the outdoor unit's terminals."""

    system: Literal["single-phase-230", "split-phase-240", "wye-208", "three-phase-400", "single-phase-115"]
    nominal_v: float
    frequency_hz: Literal[50, 60]
    running_current_a: float | None = None
    breaker_a: float | None = None


class RefrigerantData(Model):
    """Charge data from the nameplate. ``name`` as in ISO 817 without hyphen: R32, R410A."""

    name: Literal["R32", "R410A", "R454B", "R22", "R407C", "R134a", "R290"]
    charge_kg: float
    free_length_m: float = 0
    added_g_per_m: float = 0
    longest_line_m: float | None = None
    greatest_height_m: float | None = None


class Thermistor(Model):
    """NTC sensor: ``table`` of (degC, ohm), or resistance at 25 degC with Beta over 25/50 (K)."""

    r25_ohm: float | None = None
    beta_k: float | None = None
    table: tuple[tuple[float, float], ...] = ()
    tolerance_percent: float = 5
    connector: str = ""


class Windings(Model):
    """Terminal-to-terminal resistance at ``at_c``; ``imbalance_percent`` is the maker's limit."""

    resistance_ohm: float
    at_c: float = 20
    imbalance_percent: float = 5
    insulation_min_mohm: float = 1


class FanMotor(Model):
    """A DC fan motor with its electronics inside: supply, control and feedback against ground."""

    supply_v: float
    control_v: float
    control_span_v: tuple[float, float]
    pulses_per_turn: int
    speed_rpm: tuple[float, float]


class Bus(Model):
    """The rectified bus and its bleed. ``dead_below_v``: boards may be touched below this."""

    capacitance_uf: float
    bleed_ohm: float
    dead_below_v: float = 30
    boosted_v: float | None = None


class SignalLine(Model):
    """Communication between outdoor and indoor unit: terminal names and the voltage between the pair."""

    terminals: tuple[str, ...]
    pair: tuple[str, str]
    low_v: float
    high_v: float
    kind: Literal["dc-pulsing", "ac-pulsing"] = "dc-pulsing"


class Coil(Model):
    """A coil's resistance at about 20 degC with its tolerance."""

    resistance_ohm: float
    tolerance_percent: float = 10


class PressureSwitch(Model):
    """Gauge pressures at which a switch opens and closes again."""

    opens_kpa: float
    closes_kpa: float


class ShownIndication(Model):
    """What this maker's unit shows. ``symptom`` routes it; ``zones`` true when it names a zone."""

    shown: str
    phrases: Annotated[tuple[str, ...], Field(min_length=1)]
    meaning: str
    symptom: Slug
    note: str = ""


class Zone(Model):
    """One indoor unit."""

    id: Slug
    name: str
    phrases: tuple[str, ...]
    capacity_kw: float | None = None


class UnitProfile(Model):
    """One model of unit. ``features`` are what checks and suspects may need (see ``Check.needs``)."""

    id: Slug
    make: str
    model: str
    phrases: Annotated[tuple[str, ...], Field(min_length=1)]  # how a technician says it
    invented: bool = False
    #: not one model but the general values for a visit without a profile
    general: bool = False
    source: str  # the manual this was read from, or "invented for the demo"
    features: tuple[Slug, ...] = ()
    supply: Supply
    refrigerant: RefrigerantData
    zones: Annotated[tuple[Zone, ...], Field(min_length=1)]
    sensors: dict[Slug, Thermistor] = {}  # room, pipe, outdoor, discharge, suction ...
    compressor: Windings | None = None
    indoor_fan: FanMotor | None = None
    outdoor_fan: FanMotor | None = None
    bus: Bus | None = None
    signal: SignalLine | None = None
    expansion_valve_coil: Coil | None = None
    reversing_valve_coil: Coil | None = None
    high_pressure_switch: PressureSwitch | None = None
    low_pressure_switch: PressureSwitch | None = None
    run_capacitors_uf: dict[Slug, float] = {}
    indications: tuple[ShownIndication, ...] = ()


#: Refrigerants of ISO 817 flammability class 2L or 3 (published class; source iso-817 in sources.yaml).
FLAMMABLE = frozenset({"R32", "R454B", "R290"})
#: Mixtures whose bubble and dew points differ enough to matter on a gauge.
GLIDING = frozenset({"R454B", "R407C"})
#: Supplies of more than one live conductor; units on two legs (240 and 208 V) use no neutral.
SEVERAL_LEGS = frozenset({"split-phase-240", "wye-208", "three-phase-400"})


def features_of(profile: UnitProfile) -> frozenset[str]:
    """What checks and suspects may need of this unit: the profile's own features and those its data imply."""
    return frozenset(profile.features) | _derived(profile)


def _derived(profile: UnitProfile) -> frozenset[str]:
    parts = {
        "multi-zone": len(profile.zones) > 1,
        "single-zone": len(profile.zones) == 1 and not profile.general,
        "charge-known": not profile.general,
        "charge-unknown": profile.general,
        "running-current": profile.supply.running_current_a is not None,
        "breaker-size": profile.supply.breaker_a is not None,
        "two-wire-supply": profile.supply.system != "three-phase-400",
        "several-legs": profile.supply.system in SEVERAL_LEGS,
        "neutral": profile.supply.system not in ("split-phase-240", "wye-208"),
        "three-phase": profile.supply.system == "three-phase-400",
        "flammable": profile.refrigerant.name in FLAMMABLE,
        "glide": profile.refrigerant.name in GLIDING,
        "compressor-data": profile.compressor is not None,
        "indoor-fan-data": profile.indoor_fan is not None,
        "outdoor-fan-data": profile.outdoor_fan is not None,
        "bus-data": profile.bus is not None,
        "signal-data": profile.signal is not None,
        "expansion-valve-coil": profile.expansion_valve_coil is not None,
        "reversing-valve-coil": profile.reversing_valve_coil is not None,
        "high-pressure-switch": profile.high_pressure_switch is not None,
        "low-pressure-switch": profile.low_pressure_switch is not None,
        "run-capacitor": bool(profile.run_capacitors_uf),
    }
    sensors = {f"sensor-{sensor}" for sensor in profile.sensors}
    return frozenset({feature for feature, there in parts.items() if there} | sensors)
