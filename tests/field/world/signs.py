"""What anybody at the site can notice, with no tool: derived from how the machine behaves, never from the fault.

A sign is a short name and how readily a customer speaks of it. ``shows:...`` is what the display tells, in general
words.
"""

from __future__ import annotations

from tests.field.machine.controls import Behaviour, behave, calling
from tests.field.machine.frost import defrosts_too_often
from tests.field.machine.units import Machine
from tests.field.machine.weather import Weather
from tests.field.machine.wiring import Switching

Signs = dict[str, float]


def signs(machine: Machine, sound: Machine, weather: Weather, bad: bool) -> Signs:
    """Everything that shows; ``bad``: loose contacts are open just now. ``sound`` is the same site without faults."""
    now = Switching(bad=bad)
    call = calling(machine, weather)
    shown = behave(machine, weather, call, now)
    healthy = behave(sound, weather, calling(sound, weather), Switching())
    found: Signs = {}
    found |= _power(machine, shown, weather)
    found |= _panel(shown, found)
    found |= _running(machine, weather, shown, healthy, found)
    found |= _zones(machine, weather, shown, call.zones)
    found |= _ice_and_water(machine, weather, shown)
    found |= _noise_and_smell(machine, shown)
    found |= _room(machine, weather, shown)
    if found and machine.house.history == "never":
        found["never-right"] = 1.5
    return found


def _power(machine: Machine, shown: Behaviour, weather: Weather) -> Signs:
    found: Signs = {}
    if shown.breaker == "at-once":
        found["breaker-at-once"] = 6
    elif shown.breaker in ("start", "later"):
        found["breaker-later"] = 6
    if shown.point is not None:
        sag = 1 - _panel_v(shown) / max(machine.plate.nominal_v, 1)
        if sag > 0.045:
            found["lights-dim"] = 2.5
    return found


def _panel_v(shown: Behaviour) -> float:
    return shown.electric.between("panel-1", "panel-2")


def _panel(shown: Behaviour, found: Signs) -> Signs:
    more: Signs = {}
    if shown.display == "dark":
        more["display-dark"] = 4
        if not shown.obeys:
            more["dead"] = 4
    elif shown.display in ("frozen", "nonsense"):
        more[f"display-{shown.display}"] = 5
    if shown.indoor_alive and not shown.obeys and shown.display == "normal":
        more["ignores-remote"] = 5
    if shown.shows and shown.display == "normal":
        more[f"shows:{shown.shows}"] = 10
    if shown.line.state == "drops":
        more["communication-drops"] = 3
    return more


def _running(machine: Machine, weather: Weather, shown: Behaviour, healthy: Behaviour, before: Signs) -> Signs:
    found: Signs = {}
    if not shown.indoor_alive or "dead" in before:
        return found
    if shown.indoor_fan in ("still", "stops"):
        found["fan-still"] = 4
    elif shown.indoor_fan == "weak":
        found["fan-weak"] = 4
    wrong = shown.output_kw < -0.01
    if wrong:
        found["wrong-way" if weather.wanted == "cooling" else "cold-in-heating"] = 5
    elif shown.output_kw < 0.05 and shown.indoor_fan in ("strong", "weak") and not shown.waits:
        found["warm-in-cooling" if weather.wanted == "cooling" else "cold-in-heating"] = 3
    elif shown.output_kw < 0.72 * healthy.output_kw or shown.output_kw < 0.9 * shown.need_kw:
        found["weak"] = 4
    if shown.start.sound in ("hum", "growl"):
        found["compressor-noise"] = 3
    if shown.stop in ("at-once", "minute"):
        found["stops-soon"] = 2
    if shown.stop == "never-starts" and shown.line.state == "works" and not shown.waits:
        found["compressor-silent"] = 1.5
    if shown.stop == "later":
        found["on-off"] = 2
    if shown.point is not None and shown.outdoor_rpm < 60:
        found["outdoor-fan-still"] = 2
    if "weak" in found:
        found["high-bill"] = 0.7
    if machine.zone.panel.vane == "stuck":
        found["vane"] = 5
    if machine.lines.strainer > 0.9 or machine.refrigerant.charge < 0.55:
        found["hiss"] = 0.6
    return found


def _zones(machine: Machine, weather: Weather, shown: Behaviour, calling_zones: tuple[int, ...]) -> Signs:
    found: Signs = {}
    if len(machine.zones) == 1:
        return found
    if shown.waits:
        found["zones-wait"] = 4
        found["shows:zone-conflict"] = 4
    if shown.display == "dark" or (shown.line.state == "none" and shown.indoor_alive):
        found["zone-dead"] = 4
    fed = [machine.pipes_to[machine.outdoor.valve_plugs[machine.cables_to.index(machine.at)]]]
    if machine.at in calling_zones and machine.at not in fed and shown.stop in ("never", "later"):
        found["wrong-room"] = 5
    if any(machine.outdoor.valves[port].stuck_at not in (None,) and port != machine.at for port in range(3)):
        found["idle-zone-active"] = 5
        found["zone-weak"] = 2
    own = machine.outdoor.valves[machine.at]
    if own.stuck_at is not None or own.coil == "lifted" or own.plug.ohm > 1e3 or max(own.phase_ohm) > 1e5:
        found["zone-weak"] = 4
    return found


def _ice_and_water(machine: Machine, weather: Weather, shown: Behaviour) -> Signs:
    found: Signs = {}
    if shown.ice.where in ("block", "bottom"):
        found["ice-out"] = 6
    elif shown.ice.where == "rows":
        found["ice-out"] = 1.5
    if shown.indoor_ice:
        found["ice-in"] = 3
        found["ice-pipe"] = 2
    if shown.water.wet != "nowhere":
        found["water-down-wall"] = 6 if shown.water.wet != "front" or not shown.indoor_ice else 2
    heats = weather.wanted == "heating" and weather.frost
    if heats and (defrosts_too_often(machine) or machine.house.worry == "steam"):
        found["steam"] = 4
    if heats and defrosts_too_often(machine):
        found["cold-in-heating"] = 3
    if machine.zone.drain.wall == "gap":
        found["draught"] = 5
    return found


def _noise_and_smell(machine: Machine, shown: Behaviour) -> Signs:
    found: Signs = {}
    body = machine.outdoor.body
    shakes = body.panel == "rattles" or machine.lines.touches_wall or body.feet == "hard" or machine.zone.cover_rattles
    if shakes or 0.5 < machine.zone.fan.drag < 0.95 or machine.house.worry == "ticks":
        found["rattle"] = 5
    if machine.zone.drain.slime:
        found["musty"] = 5
    if machine.zone.drain.trap == "empty":
        found["drain-smell"] = 5
    return found


def _room(machine: Machine, weather: Weather, shown: Behaviour) -> Signs:
    found: Signs = {}
    if abs(shown.beliefs.room_error_k) > 2.5 and not shown.beliefs.broken:
        early = (shown.beliefs.room_error_k < 0) == (weather.wanted == "cooling")
        found["stops-early" if early else "room-off"] = 4
        found["room-off"] = 4
    if machine.zone.settings.timer:
        found["stops-early"] = 4
    if machine.zone.settings.quiet or machine.zone.settings.mode == "dry":
        found["weak"] = 4
    if shown.need_kw < 0.12 * machine.zone.capacity_kw and machine.zone.room.load < 0.2:
        found["on-off"] = 4
    return found
