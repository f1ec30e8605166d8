"""The state of one whole unit at one site, and what follows from it across the systems."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from assistant.library.profile import UnitProfile, features_of
from tests.simulation import cycle
from tests.simulation.systems import circuit as circuits
from tests.simulation.systems import compressor as compressors
from tests.simulation.systems import control as controls
from tests.simulation.systems import drain as drains
from tests.simulation.systems import indoor, pressure
from tests.simulation.systems import lesser as lessers
from tests.simulation.systems import line as lines
from tests.simulation.systems import noise as noises
from tests.simulation.systems import outdoor as outdoors
from tests.simulation.systems import outdoor_fan as outdoor_fans
from tests.simulation.systems import power as powers
from tests.simulation.systems import rare as rares
from tests.simulation.systems import reversing as reversings
from tests.simulation.systems import sensors as sensing
from tests.simulation.systems import site as sites
from tests.simulation.systems import supply as supplies
from tests.simulation.systems import valve as valves


@dataclass
class Weather:
    """Site and day. Temperatures in °C."""

    cooling: bool = True
    indoor_c: float = 26.0
    outdoor_c: float = 32.0
    moisture_l_h: float = 0.8
    wet: bool = False
    line_m: float = 8.0
    height_m: float = 3.0


@dataclass
class Unit:
    """Everything that a fault can change, by system; sound as built unless changed. Settled once it is drawn."""

    profile: UnitProfile
    weather: Weather = field(default_factory=Weather)
    air: indoor.IndoorAir = field(default_factory=indoor.IndoorAir)
    fan: indoor.IndoorFan = field(default_factory=indoor.IndoorFan)
    control: controls.Control = field(default_factory=controls.Control)
    drain: drains.Drain = field(default_factory=drains.Drain)
    circuit: circuits.Circuit = field(default_factory=circuits.Circuit)
    valve: valves.ExpansionValve = field(default_factory=valves.ExpansionValve)
    outdoor: outdoors.OutdoorAir = field(default_factory=outdoors.OutdoorAir)
    reversing: reversings.ReversingValve = field(default_factory=reversings.ReversingValve)
    switches: pressure.Switches = field(default_factory=pressure.Switches)
    noise: noises.Noise = field(default_factory=noises.Noise)
    supply: supplies.Supply = field(default_factory=supplies.Supply)
    power: powers.Power = field(default_factory=powers.Power)
    compressor: compressors.Compressor = field(default_factory=compressors.Compressor)
    outdoor_fan: outdoor_fans.OutdoorFan = field(default_factory=outdoor_fans.OutdoorFan)
    line: lines.SignalLine = field(default_factory=lines.SignalLine)
    zones: lines.Zones = field(default_factory=lines.Zones)
    sensors: sensing.Sensors = field(default_factory=sensing.Sensors)
    site: sites.Site = field(default_factory=sites.Site)
    lesser: lessers.Lesser = field(default_factory=lessers.Lesser)
    rare: rares.Rare = field(default_factory=rares.Rare)
    several_zones: bool = False
    own_module: bool = False
    _settled: dict[bool, cycle.Settled] = field(default_factory=dict)
    _states: dict[bool, str] = field(default_factory=dict)
    features: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        self.features = features_of(self.profile)

    def has(self, feature: str) -> bool:
        """A feature of the profile, given or derived."""
        return feature in self.features

    # -- supply and boards ---------------------------------------------------------------------------------------------

    def indoor_supply_v(self) -> float:
        """Volts AC at the indoor unit's supply terminals, which the outdoor unit feeds (of three phases, one)."""
        if not self.lesser.feed_whole:
            return 4.0
        at_terminals = supplies.terminals_v(self)
        if self.profile.supply.system != "three-phase-400":
            return at_terminals
        whole = self.supply.neutral and not supplies.breaker_open(self)
        return 231 * self.supply.level * (1.0 if whole and self.supply.leg else 0.3)

    def supply_reaches_indoor(self) -> bool:
        """There is enough for the indoor board's supply."""
        nominal = 230.0 if self.profile.supply.system == "three-phase-400" else self.profile.supply.nominal_v
        return self.indoor_supply_v() > supplies.BOARD_SHARE * nominal

    def rail_5v(self, motor_plugged: bool = True) -> float:
        """Volts on the indoor board's five-volt pin."""
        return controls.rail_5v(self, motor_plugged)

    def indoor_alive(self) -> bool:
        """The indoor board works as far as its own supply goes."""
        return self.rail_5v() > 4.5

    def obeys_controls(self) -> bool:
        """A call by a sound remote is taken up."""
        return controls.answers(self)

    def outdoor_board_alive(self) -> bool:
        """The outdoor board works."""
        return powers.board_alive(self)

    def outdoor_fan_turns(self) -> bool:
        """The outdoor fan turns while output is called for."""
        wanted = self.outdoor_board_alive() and self.called() and powers.start(self) != "never"
        return wanted and self.switches.high_closed() and self.switches.low_closed() and outdoor_fans.fan_runs(self)

    def asked_for(self) -> bool:
        """Somebody asked the indoor unit, and it took the call up."""
        return self.obeys_controls() and not drains.stopped_by_float(self) and not self.sensors.refuses

    def called(self) -> bool:
        """The outdoor unit is asked for output."""
        return self.asked_for() and lines.talks(self)

    # -- circuit -------------------------------------------------------------------------------------------------------

    def inputs(self, cooling: bool) -> cycle.Inputs:
        """What the circuit meets in a mode."""
        weather, parts = self.weather, self.circuit
        side = 1 if cooling else -1
        outdoor_flow = self.outdoor.coil * (0.4 if outdoors.ice_covers(self) and not cooling else 1.0)
        return cycle.Inputs(
            cooling=cooling,
            indoor_c=weather.indoor_c - side * self.air.recirculation_k,
            outdoor_c=weather.outdoor_c + side * self.outdoor.recirculation_k,
            room_c=weather.indoor_c,
            weather_c=weather.outdoor_c,
            indoor_flow=max(0.05, indoor.airflow(self)),
            outdoor_flow=outdoor_flow * self.lesser.blade_grip if outdoor_fans.fan_runs(self) else 0.08,
            charge=parts.charge,
            narrow=parts.kink * parts.service_valve * self._cold_share(cooling),
            strainer=parts.strainer,
            opening=self.valve.opening(),
            other_gas_kpa=parts.other_gas_kpa,
            slide_leak=self.reversing.leak,
            pumping=self.compressor.pumps * (0.75 if self.compressor.worn_k > 15 else 1.0),
        )

    def _cold_share(self, cooling: bool) -> float:
        """In cold weather a condenser whose fan nobody slows gives too little pressure to feed the valve."""
        starved = cooling and not self.lesser.cold_ready and self.weather.outdoor_c < 10
        return 0.45 if starved else 1.0

    def settled(self, cooling: bool) -> cycle.Settled:
        """Where the circuit settles if it cools (or heats) at full speed."""
        if cooling not in self._settled:
            self._settled[cooling] = cycle.settle(self.profile.refrigerant.name, self.inputs(cooling))
        return self._settled[cooling]

    def runs_as(self, called_cooling: bool) -> bool:
        """True when the circuit really cools in the mode called for."""
        return reversings.runs_cooling(self, called_cooling)

    def reversing_shifts(self) -> bool:
        """The reversing valve follows its command."""
        return reversings.shifts(self)

    def compressor_state(self, cooling: bool) -> str:
        """How a call in a mode ends: refuses, at-once, minute, trips (after some minutes) or runs."""
        if cooling not in self._states:
            self._states[cooling] = self._compressor_state(cooling)
        return self._states[cooling]

    def _compressor_state(self, cooling: bool) -> str:
        if not self.called() or not self.outdoor_board_alive() or self.lesser.leak_alarm:
            return "refuses"
        if not (self.switches.high_closed() and self.switches.low_closed()):
            return "refuses"
        begun = powers.start(self)
        if begun in ("never", "at-once", "minute"):
            return "refuses" if begun == "never" else begun
        ends = begun == "later" or self.would_stop(cooling) or self.rare.transducer_kpa
        return "trips" if ends else "runs"

    def circulates(self, cooling: bool) -> bool:
        """The compressor pumps for some minutes at least."""
        return self.compressor_state(cooling) in ("runs", "trips")

    def would_stop(self, cooling: bool) -> str:
        """What ends a run in a mode: "", high-pressure, low-pressure or hot-discharge."""
        return self.settled(self.runs_as(cooling)).stop

    def stopped_by(self) -> str:
        """What the unit reports of its circuit in today's mode."""
        if not self.called() or not self.outdoor_board_alive():
            return ""
        if not self.switches.high_closed():
            return "high-pressure"
        if not self.switches.low_closed():
            return "low-pressure"
        return self.would_stop(self.weather.cooling) if self.circulates(self.weather.cooling) else ""

    def tries_to_run(self) -> bool:
        """The compressor at least tries to start."""
        return self.compressor_state(self.weather.cooling) != "refuses"

    def makes_output(self) -> bool:
        """The circuit works in today's mode, at least for a while."""
        return self.circulates(self.weather.cooling)

    def delivers(self, cooling: bool) -> float:
        """Share of full output that reaches the zone in the mode called for; 0 when it does the opposite or stands."""
        state = self.compressor_state(cooling)
        if not self.circulates(cooling) or self.runs_as(cooling) != cooling:
            return 0.0
        return self.settled(cooling).output * (0.5 if state == "trips" else 1.0)

    def own_output(self) -> float:
        """Share of full output that this zone gets in today's mode when all zones ask alike."""
        crossed = self.zones.wires_crossed or self.zones.pipes_crossed
        return 0.05 if crossed else self.delivers(self.weather.cooling)

    def output_now(self) -> float:
        """Share of full output that the zone gets as it was left; none while another zone asks for the opposite."""
        return self.own_output() if self.zones.modes == "same" else 0.0

    def current_a(self) -> float:
        """Amperes that the unit draws from its supply, ten minutes into a run."""
        nominal = self.profile.supply.running_current_a or 6.0
        if not self.circulates(self.weather.cooling):
            return 0.4
        state = self.settled(self.runs_as(self.weather.cooling))
        lift = (state.condensing_c - state.boiling_c) / 40
        return nominal * (0.25 + 0.7 * lift * min(1.0, 0.35 + 0.65 * state.output)) / max(self.supply.level, 0.5)

    def blows(self) -> bool:
        """Air comes out indoors."""
        return indoor.turning(self) in ("strong", "weak", "stops")

    # -- what people see -----------------------------------------------------------------------------------------------

    def complaint_persists(self) -> bool:
        """Whatever the customer met is there to be met today."""
        from tests.simulation.catalogue import shown

        told = {"never-worked-right", "complaint-not-seen"}
        return not self.site.absent and any(symptom not in told for symptom in shown(self, told))

    def shows_an_indication(self) -> bool:
        """The display or the lamps report something."""
        from tests.simulation.catalogue import INDICATIONS, shown

        return any(symptom in INDICATIONS for symptom in shown(self, {"never-worked-right"}))


def sound_unit(profile: UnitProfile, rng: Random, several: bool) -> Unit:
    """A sound unit on some day, with the small blemishes that every unit has.

    ``several``: whether a unit that is not known by its profile has more than one zone.
    """
    cooling = rng.random() < 0.65
    weather = Weather(
        cooling=cooling,
        indoor_c=rng.uniform(24, 29) if cooling else rng.uniform(17, 22),
        outdoor_c=rng.uniform(26, 37) if cooling else rng.uniform(-6, 10),
        moisture_l_h=rng.uniform(0.4, 1.8),
        wet=rng.random() < 0.3,
        line_m=rng.uniform(4, 14),
        height_m=rng.uniform(1, 5),
    )
    unit = Unit(profile=profile, weather=weather)
    unit.air.filter = rng.uniform(0.8, 1.0)
    unit.air.coil = rng.uniform(0.91, 1.0)
    unit.air.wheel = rng.uniform(0.92, 1.0)
    unit.outdoor.coil = rng.uniform(0.8, 1.0)
    unit.outdoor.behind_m = rng.uniform(0.12, 0.8)
    unit.drain.hose = rng.uniform(0.7, 1.0)
    unit.circuit.charge = rng.uniform(0.96, 1.04)
    unit.fan.supply_pin_ohm = rng.choice([None, rng.uniform(50e3, 900e3)])
    unit.reversing.fed_in_cooling = rng.random() < 0.2
    coil = profile.reversing_valve_coil
    unit.reversing.coil_ohm = (coil.resistance_ohm if coil else 1200.0) * rng.uniform(0.96, 1.04)
    step = profile.expansion_valve_coil
    ohms = (step.resistance_ohm if step else 46.0) * rng.uniform(0.97, 1.03)
    unit.valve.phases_ohm = [ohms * rng.uniform(0.99, 1.01) for _ in range(4)]
    unit.several_zones = "multi-zone" in features_of(profile) and (not profile.general or several)
    unit.own_module = unit.has("separate-power-module") and (
        not unit.has("integrated-power-module") or rng.random() < 0.5
    )
    unit.site.history = "by-itself" if rng.random() < 0.93 else "after-work"
    unit.outdoor_fan.supply_pin_ohm = rng.choice([None, rng.uniform(50e3, 900e3)])
    unit.supply.level = rng.uniform(0.97, 1.03)
    unit.supply.wire_drop = rng.uniform(0.003, 0.015)
    unit.line.loop_ohm = rng.uniform(0.3, 1.5)
    unit.line.route = "apart" if rng.random() < 0.94 else "beside"
    motor = profile.compressor
    ohm = motor.resistance_ohm if motor else rng.uniform(0.6, 2.5)
    warm = 1 + (weather.outdoor_c - 20) * 0.0039
    unit.compressor.pairs = {pair: ohm * warm * rng.uniform(0.995, 1.005) for pair in ("u-v", "v-w", "w-u")}
    unit.compressor.earth_mohm = rng.uniform(20, 800)
    return unit
