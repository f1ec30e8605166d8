"""How the unit behaves: from power through communication, protections and start to the steady state.

The order is that of such a machine: without power nothing lives, without the line the outdoor unit is not called,
a protection that is open keeps the compressor still, a start that fails stops it, and what runs may stop later.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tests.field.machine import power
from tests.field.machine.air import fan_share, indoor_air, outdoor_air
from tests.field.machine.comms import Line, line
from tests.field.machine.cycle import Point
from tests.field.machine.duty import Ask, capacity_kw, valve_range
from tests.field.machine.frost import Ice, ice
from tests.field.machine.indoor_side import Display, Fan, display_of, indoor_fan, obeys, pulled_down
from tests.field.machine.protection import protected, switch_ohm
from tests.field.machine.sensing import Beliefs, beliefs
from tests.field.machine.starting import RUNS, Start, motor_start, never, slugs, supply_start
from tests.field.machine.units import Machine
from tests.field.machine.water import Water, water
from tests.field.machine.weather import Mode, Weather
from tests.field.machine.wiring import Switching, through

_FANS_W = 70.0


@dataclass(frozen=True)
class Call:
    """What is asked of the machine: the zones that call, and at what share of full speed."""

    zones: tuple[int, ...]
    mode: Mode
    speed: float = 1.0


@dataclass(frozen=True)
class Behaviour:
    """One state of the whole machine, as it settles."""

    electric: power.Electric
    breaker: str
    indoor_alive: bool
    outdoor_alive: bool
    line: Line
    display: Display
    obeys: bool
    shows: str
    waits: bool
    indoor_fan: Fan
    indoor_rpm: float
    outdoor_rpm: float
    start: Start
    stop: str
    point: Point | None
    beliefs: Beliefs
    circuit_mode: Mode
    water: Water
    ice: Ice
    indoor_ice: bool
    served: tuple[int, ...]
    supply_air_c: float
    output_kw: float
    need_kw: float

    @property
    def runs(self) -> bool:
        """Whether the compressor pumps as it should be asked to, for as long as a check takes."""
        return self.point is not None and self.stop in ("never", "later")


def behave(machine: Machine, weather: Weather, call: Call, now: Switching) -> Behaviour:
    """The machine in this weather, called like this, its loose contacts open or not (``now.bad``)."""
    idle = power.electric(machine, now)
    breaker = power.trip(machine, 0.0, inverter_runs=False)
    off = breaker == "at-once" or machine.breaker.position != "on" or not now.disconnect_on
    rails_in = not off and power.indoor_rails(machine, idle.indoor_v)
    rails_out = not off and power.outdoor_rails(machine, idle.stage_v)
    indoor_alive = rails_in and machine.zone.board.processor == "works" and not pulled_down(machine)
    outdoor_alive = rails_out and machine.outdoor.board.processor == "works"
    signal = line(machine, now, outdoor_alive, indoor_alive)
    circuit_mode, bypass = _mode_in_effect(machine, call.mode)
    fan, rpm = indoor_fan(machine, weather, now, indoor_alive)
    frozen = ice(machine, weather)
    ports = _ports(machine, call)
    start, waits = _start(machine, weather, now, idle, outdoor_alive, signal, call, fan)
    point: Point | None = None
    outdoor_rpm = 0.0
    loaded = idle
    stop: str = start.stop
    shows = start.reason
    seen = beliefs(machine, weather, None, now.bad)
    if stop != "never-starts" and ports:
        share = fan_share(machine.outdoor.fan, outdoor_fan_driven(machine, now))
        outdoor_rpm = share * machine.outdoor.fan.top_rpm
        air_in = indoor_air(machine.zone, max(rpm / machine.zone.fan.top_rpm, 0.03))
        air_out = outdoor_air(machine.outdoor, share, frozen.share)
        bias = beliefs(machine, weather, None, now.bad).suction_error_k
        speed = call.speed * (0.6 if machine.outdoor.board.settings == "wrong" else 1.0)
        ask = Ask(circuit_mode, speed * _speed_share(machine, ports), ports, bypass, start.reverse, bias)
        point, protect = protected(machine, weather, ask, air_in, air_out, outdoor_rpm, seen)
        seen = beliefs(machine, weather, point, now.bad)
        loaded = power.electric(machine, now, point.power_kw * 1e3 + _FANS_W)
        after = supply_start(machine, idle.stage_v, loaded.stage_v, loaded.bus_low_v)
        tripped = power.trip(machine, loaded.current_a, inverter_runs=True)
        breaker = tripped if breaker == "none" else breaker
        for other in (after, protect, Start("smooth", "smooth", _breaker_stop(tripped), "")):
            if start.stop == "never" and other.stop != "never":
                start = other
        stop, shows = start.stop, start.reason
    makes_water = point is not None and circuit_mode == "cooling" and point.evaporating_c < 14
    gaps = machine.lines.insulation == "gaps" and circuit_mode == "cooling" and point is not None
    iced = point is not None and circuit_mode == "cooling" and point.evaporating_c < -2 and stop in ("never", "later")
    wet = water(machine.zone, makes_water and weather.humidity > 0.35, gaps, iced)
    if wet.float_open and indoor_alive:
        shows, stop = shows or "water", stop if stop != "never" else "later"
    shows = _shown(machine, shows, indoor_alive, signal, fan, seen)
    if shows == "sensor" and stop == "never":
        stop = "never-starts"
    output, supply_c = _output(machine, weather, call, circuit_mode, point, stop, ports, rpm)
    return Behaviour(
        electric=loaded if point is not None else idle,
        breaker=breaker,
        indoor_alive=indoor_alive,
        outdoor_alive=outdoor_alive,
        line=signal,
        display=display_of(machine, now, rails_in),
        obeys=obeys(machine, indoor_alive),
        shows=shows,
        waits=waits,
        indoor_fan=fan,
        indoor_rpm=rpm,
        outdoor_rpm=outdoor_rpm,
        start=start,
        stop=stop,
        point=point,
        beliefs=seen,
        circuit_mode=circuit_mode,
        water=wet,
        ice=frozen,
        indoor_ice=iced,
        served=tuple(machine.pipes_to[port] for port in ports),
        supply_air_c=supply_c,
        output_kw=output,
        need_kw=_need(machine, weather),
    )


def _breaker_stop(tripped: str) -> Literal["never", "at-once", "minute", "later"]:
    return {"none": "never", "at-once": "at-once", "start": "at-once", "later": "later"}[tripped]  # type: ignore[return-value]


def outdoor_fan_driven(machine: Machine, now: Switching) -> bool:
    board, motor = machine.outdoor.board, machine.outdoor.fan
    fed = board.fan_supply == "works" and board.fan_command == "works" and board.rail_15_v > 12
    return fed and through(motor.plug, now.bad) < 1e3


def _mode_in_effect(machine: Machine, asked: Mode) -> tuple[Mode, float]:
    """The mode that the reversing valve sets, and the share of hot gas that slips through it."""
    valve, board = machine.outdoor.reversing, machine.outdoor.board
    if valve.slide == "half":
        return asked, 0.5
    if valve.slide in ("cooling", "heating"):
        return valve.slide, 0.0
    energised = board.reversing_drive == "works" and valve.coil_ohm + valve.wire_ohm < 2e4
    return (asked if energised else "cooling"), 0.0


def _ports(machine: Machine, call: Call) -> tuple[int, ...]:
    """The valve ports that open when these zones call, by cable, plug and pipes."""
    if len(machine.zones) == 1:
        return (0,)
    terminals = [machine.cables_to.index(zone) for zone in call.zones]
    return tuple(sorted(machine.outdoor.valve_plugs[terminal] for terminal in terminals))


def _speed_share(machine: Machine, ports: tuple[int, ...]) -> float:
    """The compressor turns as fast as the capacity that calls."""
    calling = sum(machine.zones[machine.pipes_to[port]].capacity_kw for port in ports)
    return max(0.35, calling / capacity_kw(machine))


def asked_mode(machine: Machine, weather: Weather, zone: int) -> Mode | None:
    """The mode in which a zone calls; None while it does not. On automatic it goes by its own room and set point."""
    settings = machine.zones[zone].settings
    if settings.timer or settings.mode == "fan":
        return None
    if settings.mode == "automatic":
        return "heating" if settings.setpoint_c > weather.indoor_c else "cooling"
    return "heating" if settings.mode == "heating" else "cooling"


def calling(machine: Machine, weather: Weather) -> Call:
    """The call as the house is set: the first zone decides the mode and the others of that mode join."""
    wishes = {zone: asked_mode(machine, weather, zone) for zone in range(len(machine.zones))}
    first = next((mode for mode in wishes.values() if mode is not None), weather.wanted)
    return Call(tuple(zone for zone, mode in wishes.items() if mode == first), first)


def _start(
    machine: Machine,
    weather: Weather,
    now: Switching,
    idle: power.Electric,
    outdoor_alive: bool,
    signal: Line,
    call: Call,
    fan: Fan,
) -> tuple[Start, bool]:
    """The start as far as it depends on no steady state, and whether the zone waits for another's mode."""
    outdoor, panel = machine.outdoor, machine.zone.panel
    waits = (
        len(machine.zones) > 1 and machine.at not in call.zones and asked_mode(machine, weather, machine.at) is not None
    )
    if not call.zones:
        return never(""), waits
    if not outdoor_alive or signal.state == "none":
        return never("communication"), waits
    if panel.gas_sensor == "false-alarm":
        return never("gas"), waits
    if beliefs(machine, weather, None, now.bad).broken:
        return never("sensor"), waits
    if switch_ohm(machine, weather, "high") > 1e3:
        return never("high-pressure"), waits
    if outdoor.low_switch is not None and switch_ohm(machine, weather, "low") > 1e3:
        return never("low-pressure"), waits
    if (outdoor.compressor.overload_ohm or 0.0) > 1e3:
        return never("hot-discharge"), waits
    outdoor_c = beliefs(machine, weather, None, now.bad).outdoor_c
    if outdoor_c > 58 or outdoor_c < -25:
        return never(""), waits
    first = supply_start(machine, idle.stage_v, idle.stage_v, idle.bus_v * (10 if outdoor.power.boost != "none" else 1))
    if first.stop != "never" and first.stop != "minute":
        return first, waits
    motor = motor_start(machine, now.bad)
    if motor is RUNS and slugs(machine, weather):
        return Start("growl", "smooth", "never"), waits
    return motor, waits


def _shown(machine: Machine, reason: str, indoor_alive: bool, signal: Line, fan: Fan, seen: Beliefs) -> str:
    """The one indication that the display gives; "" for none. Without a display that lives nothing is shown."""
    if not indoor_alive:
        return ""
    if reason == "freeze":  # a guard, no trouble to the control: it rests and goes on
        reason = ""
    if machine.zone.panel.gas_sensor == "false-alarm":
        return "gas"
    if seen.broken:
        return "sensor"
    if fan in ("still", "stops") and machine.zone.fan.kind == "dc":
        return "indoor-fan"
    if signal.state != "works":
        return "communication"
    return reason


def _need(machine: Machine, weather: Weather) -> float:
    """What the room takes, in kW: its load at design weather, in proportion to the difference of temperatures."""
    zone = machine.zone
    away = weather.outdoor_c - 22 if weather.wanted == "cooling" else 20 - weather.outdoor_c
    design = 13 if weather.wanted == "cooling" else 32
    return max(0.05, zone.room.load * zone.capacity_kw * away / design)


def _output(
    machine: Machine, weather: Weather, call: Call, mode: Mode, point: Point | None, stop: str,
    ports: tuple[int, ...], rpm: float,
) -> tuple[float, float]:  # fmt: skip
    """Heat that the visit's zone gets (kW, positive when it is what is wanted) and its supply air temperature."""
    if point is None or stop in ("never-starts", "at-once", "minute") or machine.at not in call.zones:
        return 0.0, weather.indoor_c
    served = [machine.pipes_to[port] for port in ports]
    if machine.at not in served:
        return 0.0, weather.indoor_c
    weights = {
        machine.pipes_to[port]: _fed(machine, port) * machine.zones[machine.pipes_to[port]].capacity_kw
        for port in ports
    }
    whole = point.cooling_kw if mode == "cooling" else point.heating_kw
    mine = whole * weights[machine.at] / max(sum(weights.values()), 1e-6)
    flow = 0.057 * machine.zone.capacity_kw * indoor_air(machine.zone, max(rpm / machine.zone.fan.top_rpm, 0.03)).flow
    change = mine * (0.75 if mode == "cooling" else 1.0) / max(flow, 0.01)
    change = min(change, abs((point.evaporating_c if mode == "cooling" else point.condensing_c) - weather.indoor_c))
    supply = weather.indoor_c - change if mode == "cooling" else weather.indoor_c + change
    return (mine if mode == weather.wanted else -mine), supply


def _fed(machine: Machine, port: int) -> float:
    if len(machine.outdoor.valves) == 1:
        return 1.0
    least, most = valve_range(machine.outdoor.valves[port], machine.outdoor.board.valve_drive == "works")
    return 1.0 if most > least else max(0.02, min(1.0, most / 0.7))
