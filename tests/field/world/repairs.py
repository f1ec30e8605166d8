"""What a technician can put right: each repair makes some paths of the machine sound again, and nothing else.

A repair of the wrong thing leaves the fault where it is. ``dear`` marks what costs a customer real money (part and
labour of a hundred dollars and more: an estimate, no source), so that a sound one must not be thrown away.
"""

from __future__ import annotations

import copy
from dataclasses import dataclass

from tests.field.machine.units import Machine, get, put


@dataclass(frozen=True)
class Repair:
    """``paths`` become sound. ``only``: a path and the value it must have, else the repair changes nothing."""

    paths: tuple[str, ...]
    dear: bool = False
    only: tuple[str, tuple[object, ...]] | None = None


_O, _Z = "outdoor", "zone"
_CHARGE = ("refrigerant.charge", "refrigerant.fluid", "refrigerant.air_kpa", "refrigerant.wet")
_MENDED = (*_CHARGE, "refrigerant.leak", "refrigerant.oil_mark")


def _leak(*places: str, paths: tuple[str, ...] = (), dear: bool = False) -> Repair:
    return Repair((*_MENDED, *paths), dear, only=("refrigerant.leak", places))


REPAIRS: dict[str, Repair] = {
    # supply
    "restore-leg": Repair(("supply.lost_leg", "branch.pull_out_ohm")),
    "call-utility": Repair(("supply.leg_v", "supply.service_ohm", "supply.lost_leg")),
    "tighten-supply-terminals": Repair(("branch.screw", "branch.brown")),
    "replace-pull-out-fuse": Repair(("branch.pull_out_ohm",)),
    "rewire-supply": Repair(("branch.wire_ohm", "branch.size", "branch.short", "branch.screw", "branch.brown")),
    "replace-breaker": Repair(("breaker",)),
    "own-circuit": Repair(("breaker",)),
    "switch-breaker-on": Repair(("breaker.position",)),
    "dry-disconnect": Repair(("branch.leak_ma",)),
    "better-generator": Repair(("supply.waveform", "supply.frequency_hz")),
    "mend-neutral": Repair(("branch.neutral_ohm",)),
    # outdoor electronics
    "replace-outdoor-board": Repair((f"{_O}.board", f"{_O}.power"), dear=True),
    "clean-outdoor-board": Repair((f"{_O}.body.animal", f"{_O}.board.look", f"{_O}.power.relay")),
    "replace-outdoor-fuse": Repair((f"{_O}.power.fuse_ohm",)),
    "replace-soft-start": Repair(
        (f"{_O}.power.soft_start_ohm", f"{_O}.power.relay", f"{_O}.body.animal", f"{_O}.board.look")
    ),
    "replace-bridge": Repair((f"{_O}.power.bridge", f"{_O}.power.capacitor_share")),
    "replace-bus-capacitors": Repair((f"{_O}.power.capacitor_share", f"{_O}.power.capacitor_top")),
    "replace-reactor": Repair((f"{_O}.power.reactor_ohm",)),
    "replace-module": Repair((f"{_O}.module",), dear=True),
    "replace-main-board": Repair((f"{_O}.board", f"{_O}.power", f"{_O}.module"), dear=True),
    "tighten-module": Repair((f"{_O}.module.seat",)),
    "set-board": Repair((f"{_O}.board.settings",)),
    "power-rest": Repair(("zone.board.processor", f"{_O}.board.processor"),
                         only=("any-processor", ("locked",))),
    "replace-outdoor-fan-motor": Repair((f"{_O}.fan",), dear=True),
    "mend-outdoor-fan-plug": Repair((f"{_O}.fan.plug",)),
    "fix-outdoor-blade": Repair((f"{_O}.fan.blade",)),
    "free-outdoor-blade": Repair((f"{_O}.fan.blade",)),
    # compressor
    "replace-compressor": Repair((f"{_O}.compressor",), dear=True),
    "mend-compressor-terminals": Repair((f"{_O}.compressor.terminals", f"{_O}.compressor.terminal_ohm")),
    "swap-compressor-leads": Repair((f"{_O}.compressor.leads",)),
    "replace-overload": Repair((f"{_O}.compressor.overload_ohm",)),
    "replace-crankcase-heater": Repair((f"{_O}.compressor.crankcase_ohm",)),
    # signal line
    "replace-cable": Repair(("zone.cable",)),
    "splice-cable": Repair(("zone.cable.conductor_ohm", "zone.cable.splice", "zone.cable.short_23_ohm",
                            "zone.cable.insulation_mohm")),
    "swap-signal-wires": Repair(("zone.cable.order",)),
    "tighten-signal-terminals": Repair(("zone.cable.screw", "zone.cable.feed_screw")),
    "reroute-cable": Repair(("zone.cable.route",)),
    "uncross-cables": Repair(("cables_to",)),
    # indoor electronics
    "replace-indoor-fuse": Repair(("zone.board.fuse_ohm",)),
    "replace-indoor-board": Repair(("zone.board",), dear=True),
    "replace-display": Repair(("zone.panel.display", "zone.panel.display_plug", "zone.panel.receiver")),
    "replace-receiver": Repair(("zone.panel.receiver",)),
    "seat-display-plug": Repair(("zone.panel.display_plug",)),
    "replace-remote-batteries": Repair(("zone.panel.remote",), only=("zone.panel.remote", ("battery",))),
    "reset-remote": Repair(("zone.panel.remote",)),
    "seat-adapter": Repair(("zone.panel.adapter",)),
    "set-schedule": Repair(("zone.panel.wired_schedule", "zone.settings")),
    "replace-gas-sensor": Repair(("zone.panel.gas_sensor",)),
    "replace-indoor-fan-motor": Repair(("zone.fan",), dear=True),
    "replace-run-capacitor": Repair(("zone.fan.capacitor_share",)),
    "mend-indoor-fan-plug": Repair(("zone.fan.plug",)),
    "free-indoor-wheel": Repair(("zone.fan.drag",)),
    "fix-indoor-wheel": Repair(("zone.fan.blade",)),
    "replace-vane-motor": Repair(("zone.panel.vane",)),
    # refrigerant circuit
    "mend-indoor-flare": _leak("indoor-joint", "indoor-flare-poor", paths=("lines.nuts", "lines.flare")),
    "mend-outdoor-flare": _leak("outdoor-joint", paths=("lines.nuts",)),
    "mend-service-valve": _leak("service-valve"),
    "replace-indoor-coil": _leak("indoor-coil", dear=True),
    "mend-outdoor-pipe": _leak("outdoor-inside"),
    "replace-line-set": Repair(("lines.kink", *_MENDED), dear=True, only=("line-or-kink", (True,))),
    "weigh-charge": Repair((*_CHARGE, "lines.label"),
                           only=("no-leak-left", (True,))),
    "replace-drier": Repair(("lines.strainer", "refrigerant.wet")),
    "mend-kink": Repair(("lines.kink",)),
    "open-stems": Repair(("lines.stems_open",)),
    "shorten-line": Repair(("lines.length_m", "lines.height_m", "lines.rise_m", "lines.trap"), dear=True),
    "replace-valve-body": Repair((f"{_O}.valves",), dear=True),
    "replace-valve-coil": Repair(("valve.phase_ohm", "valve.coil", "valve.plug")),
    "seat-valve-coil": Repair(("valve.coil",)),
    "seat-valve-plug": Repair(("valve.plug",)),
    "swap-valve-plugs": Repair((f"{_O}.valve_plugs",)),
    "uncross-pipes": Repair(("pipes_to",), dear=True),
    # the cables put where the refrigerant goes: right for every crossing, as long as the complaint is all that counts
    "match-zones": Repair(("pipes_to", f"{_O}.valve_plugs", "cables_to")),
    "replace-reversing-coil": Repair((f"{_O}.reversing.coil_ohm",)),
    "mend-reversing-wire": Repair((f"{_O}.reversing.wire_ohm",)),
    "replace-reversing-valve": Repair((f"{_O}.reversing.slide",), dear=True),
    "replace-high-switch": Repair((f"{_O}.high_switch.contact",)),
    "mend-high-switch-wire": Repair((f"{_O}.high_switch.wire_ohm",)),
    "replace-low-switch": Repair((f"{_O}.low_switch.contact",)),
    "mend-low-switch-wire": Repair((f"{_O}.low_switch.wire_ohm",)),
    "replace-transducer": Repair((f"{_O}.transducer_offset_kpa",)),
    # air, house
    "clean-filter": Repair(("zone.filter_dirt",)),
    "clean-wheel": Repair(("zone.wheel_dirt",)),
    "clean-indoor-coil": Repair(("zone.coil.dirt",)),
    "clean-outdoor-coil": Repair((f"{_O}.coil.dirt", f"{_O}.body.animal")),
    "free-outdoor-unit": Repair((f"{_O}.coil.behind_m", f"{_O}.coil.recirculation")),
    "remove-nest": Repair((f"{_O}.body.animal", f"{_O}.coil.dirt")),
    "free-indoor-unit": Repair(("zone.room.space",)),
    "mend-ducts": Repair(("zone.duct_static",)),
    "set-zone-modes": Repair(("zones.0.settings",)),
    "set-unit": Repair(("zone.settings",)),
    "explain-size": Repair(("zone.room.load",)),
    "low-ambient-kit": Repair((f"{_O}.head_control",)),
    "explain-normal": Repair((f"{_O}.head_control", "house.worry")),
    "fasten-panel": Repair((f"{_O}.body.panel", "zone.cover_rattles")),
    "free-line": Repair(("lines.touches_wall",)),
    "mend-feet": Repair((f"{_O}.body.feet",)),
    "free-sensor-place": Repair(("zone.room.sensor_place",)),
    "clear-snow": Repair((f"{_O}.body.snow",)),
    "divert-drip": Repair((f"{_O}.body.drip",)),
    "clear-pan-holes": Repair((f"{_O}.body.pan_holes",)),
    "replace-base-heater": Repair((f"{_O}.body.base_heater_ohm",)),
    # sensors
    **{f"replace-{name}-sensor": Repair((f"zone.sensors.{name}",)) for name in ("room", "pipe")},
    **{
        f"replace-{name}-sensor": Repair((f"{_O}.sensors.{name}",))
        for name in ("outdoor", "coil", "suction", "discharge")
    },
    "seat-pipe-sensor": Repair(("zone.sensors.pipe.seat",)),
    "seat-coil-sensor": Repair((f"{_O}.sensors.coil.seat",)),
    "seat-discharge-sensor": Repair((f"{_O}.sensors.discharge.seat",)),
    "mend-indoor-sensor-plug": Repair(("zone.sensors.pipe.plug", "zone.sensors.room.plug")),
    "mend-outdoor-sensor-plug": Repair(
        tuple(f"{_O}.sensors.{name}.plug" for name in ("outdoor", "coil", "suction", "discharge"))
    ),
    # drain
    "clear-drain": Repair(("zone.drain.plug", "zone.drain.animal", "zone.drain.frozen", "zone.drain.trap")),
    "reroute-hose": Repair(("zone.drain.run",)),
    "clean-trap": Repair(("zone.drain.trap",)),
    "fill-trap": Repair(("zone.drain.trap",)),
    "level-indoor-unit": Repair(("zone.drain.tilt",)),
    "thaw-hose": Repair(("zone.drain.frozen",)),
    "replace-pan": Repair(("zone.drain.pan",)),
    "replace-pump": Repair(("zone.pump.motor",)),
    "clean-pump": Repair(("zone.pump.motor",), only=("zone.pump.motor", ("jammed",))),
    "clear-pump-hose": Repair(("zone.pump.lift_blocked",)),
    "mend-pump-wire": Repair(("zone.pump.wire_ohm",)),
    "clean-float": Repair(("zone.pump.float_moves",)),
    "replace-float": Repair(("zone.pump.float_moves", "zone.pump.float_contact_ohm")),
    "mend-insulation": Repair(("lines.insulation",)),
    "seal-wall": Repair(("zone.drain.wall",)),
    "clean-pan": Repair(("zone.drain.slime",)),
}  # fmt: skip


def carry_out(machine: Machine, sound: Machine, repair: Repair) -> bool:
    """Make the repair's paths as they are in the sound machine; false when that changes nothing."""
    if repair.only is not None and not _applies(machine, *repair.only):
        return False
    changed = False
    for path in repair.paths:
        if has(sound, path):
            changed = changed or get(machine, path) != get(sound, path)
            put(machine, path, copy.deepcopy(get(sound, path)))
    return changed


def one_board(machine: Machine, name: str) -> str:
    """Where the power module is part of the main board, changing either is changing both."""
    joined = machine.outdoor.module.place == "main"
    return "replace-main-board" if joined and name in ("replace-module", "replace-outdoor-board") else name


def has(machine: Machine, path: str) -> bool:
    """Whether this machine has what the path names (a pump, a low-pressure switch, a third zone)."""
    try:
        get(machine, path)
    except (AttributeError, KeyError, IndexError):
        return False
    return True


def _applies(machine: Machine, path: str, values: tuple[object, ...]) -> bool:
    match path:
        case "any-processor":
            return "locked" in (machine.zone.board.processor, machine.outdoor.board.processor)
        case "line-or-kink":
            return machine.refrigerant.leak == "line" or machine.lines.kink > 0
        case "no-leak-left":
            return machine.refrigerant.leak == ""
        case _:
            return get(machine, path) in values
