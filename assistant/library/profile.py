"""The unit profile: what is known of one model of unit. Users write their own; shipped makes are invented."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from assistant.library import bounds as b
from assistant.library.models import Slug
from assistant.model import Model
from assistant.quantities.refrigerants import RefrigerantName
from assistant.quantities.supplies import SupplySystem


class Supply(Model):
    """Supply at the outdoor unit's terminals; ``nominal_v`` as its nameplate prints it."""

    system: SupplySystem
    nominal_v: b.SupplyVolts
    frequency_hz: Literal[50, 60]
    running_current_a: b.Amperes | None = None
    breaker_a: b.Amperes | None = None


class RefrigerantData(Model):
    """Charge data from the nameplate. ``name`` as in ISO 817 without hyphen: R32, R410A."""

    name: RefrigerantName
    charge_kg: b.Kilograms
    free_length_m: b.FreeMetres = 0
    added_g_per_m: b.GramsPerMetre = 0
    longest_line_m: b.PipeMetres | None = None
    greatest_height_m: b.FreeMetres | None = None


class Thermistor(Model):
    """NTC sensor: ``table`` of (degC, ohm), or resistance at 25 degC with Beta over 25/50 (K)."""

    r25_ohm: b.SensorOhms | None = None
    beta_k: b.BetaKelvin | None = None
    table: Annotated[tuple[tuple[b.SensorC, b.SensorOhms], ...], Field(max_length=400)] = ()
    tolerance_percent: b.Percent = 5
    connector: b.Words = ""


class Windings(Model):
    """Terminal-to-terminal resistance at ``at_c``; ``imbalance_percent`` is the maker's limit."""

    resistance_ohm: b.WindingOhms
    at_c: b.WindingC = 20
    imbalance_percent: b.Percent = 5
    insulation_min_mohm: b.Megohms = 1


class FanMotor(Model):
    """A DC fan motor with its electronics inside: supply, control and feedback against ground."""

    supply_v: b.MotorVolts
    control_v: b.ControlVolts
    control_span_v: tuple[b.ControlVolts, b.ControlVolts]
    pulses_per_turn: b.PulsesPerTurn
    speed_rpm: tuple[b.TurnsPerMinute, b.TurnsPerMinute]


class Bus(Model):
    """The rectified bus and its bleed. ``dead_below_v``: boards may be touched below this."""

    capacitance_uf: b.BusMicrofarads
    bleed_ohm: b.BleedOhms
    dead_below_v: b.DeadVolts = b.DEAD_AT_MOST_V
    boosted_v: b.BusVolts | None = None


class SignalLine(Model):
    """Communication between outdoor and indoor unit: terminal names and the voltage between the pair."""

    terminals: Annotated[tuple[b.Words, ...], Field(max_length=20)]
    pair: tuple[b.Words, b.Words]
    low_v: b.SignalVolts
    high_v: b.SignalVolts
    kind: Literal["dc-pulsing", "ac-pulsing"] = "dc-pulsing"


class Coil(Model):
    """A coil's resistance at about 20 degC with its tolerance."""

    resistance_ohm: b.CoilOhms
    tolerance_percent: b.Percent = 10


class PressureSwitch(Model):
    """Gauge pressures at which a switch opens and closes again."""

    opens_kpa: b.GaugeKilopascals
    closes_kpa: b.GaugeKilopascals


class ShownIndication(Model):
    """What this maker's unit shows. ``symptom`` routes it; ``zones`` true when it names a zone."""

    shown: b.Words
    phrases: Annotated[tuple[b.Words, ...], Field(min_length=1, max_length=40)]
    meaning: b.Prose
    symptom: Slug
    note: b.Prose = ""


class Zone(Model):
    """One indoor unit."""

    id: Slug
    name: b.Words
    phrases: Annotated[tuple[b.Words, ...], Field(max_length=40)]
    capacity_kw: b.Kilowatts | None = None


class UnitProfile(Model):
    """One model of unit. ``features`` are what checks and suspects may need (see ``Check.needs``).

    Every number is finite and within the span that ``library/bounds.py`` gives it.
    """

    id: Annotated[Slug, Field(max_length=80)]
    make: b.Words
    model: b.Words
    phrases: Annotated[tuple[b.Words, ...], Field(min_length=1, max_length=40)]  # how a technician says it
    invented: bool = False
    #: not one model but the general values for a visit without a profile
    general: bool = False
    source: b.Prose  # the manual this was read from, or "invented for the demo"
    features: Annotated[tuple[Slug, ...], Field(max_length=100)] = ()
    supply: Supply
    refrigerant: RefrigerantData
    zones: Annotated[tuple[Zone, ...], Field(min_length=1, max_length=64)]
    sensors: Annotated[dict[Slug, Thermistor], Field(max_length=40)] = {}  # room, pipe, outdoor, discharge, suction ...
    compressor: Windings | None = None
    indoor_fan: FanMotor | None = None
    outdoor_fan: FanMotor | None = None
    bus: Bus | None = None
    signal: SignalLine | None = None
    expansion_valve_coil: Coil | None = None
    reversing_valve_coil: Coil | None = None
    high_pressure_switch: PressureSwitch | None = None
    low_pressure_switch: PressureSwitch | None = None
    run_capacitors_uf: Annotated[dict[Slug, b.RunMicrofarads], Field(max_length=20)] = {}
    indications: Annotated[tuple[ShownIndication, ...], Field(max_length=400)] = ()


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
        # One of several heads may be ducted, and so may a unit of which nobody has the plate.
        "may-have-ducts": profile.general or len(profile.zones) > 1,
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
        "bus-data": profile.bus is not None and not profile.general,  # a general bus is only good for the wait
        "boosted-bus": profile.bus is not None and not profile.general and profile.bus.boosted_v is not None,
        "signal-data": profile.signal is not None,
        "expansion-valve-coil": profile.expansion_valve_coil is not None,
        "reversing-valve-coil": profile.reversing_valve_coil is not None,
        "high-pressure-switch": profile.high_pressure_switch is not None,
        "low-pressure-switch": profile.low_pressure_switch is not None,
        "suction-sensor": "suction" in profile.sensors,
        "run-capacitor": bool(profile.run_capacitors_uf),
        "ac-indoor-fan": "indoor-fan" in profile.run_capacitors_uf,
        "gravity-drain": profile.general or "condensate-pump" not in profile.features,
    }
    sensors = {f"sensor-{sensor}" for sensor in profile.sensors}
    return frozenset({feature for feature, there in parts.items() if there} | sensors)
