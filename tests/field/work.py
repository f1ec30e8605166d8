"""What a technician does at the site when the program names a fault: its spoken words become repairs of the world.

Written from the sentences that the program speaks, by what they mean to a technician, so that a fault may be renamed
in the program and still be understood. A sentence that offers several ways ("mend the wire, or renew the board") gives
them in order; the technician goes on to the next only when the one before found nothing to put right.
"""

from __future__ import annotations

import re
from functools import cache

_SENSORS = {
    "outdoor coil": "coil",
    "coil": "coil",
    "defrost": "coil",
    "outdoor air": "outdoor",
    "outdoor": "outdoor",
    "discharge": "discharge",
    "suction": "suction",
    "room": "room",
    "pipe": "pipe",
}
_SENSOR = r"(outdoor coil|outdoor air|defrost|discharge|suction|outdoor|coil|room|pipe)(?:'s)? sensor"

#: What is heard of the fault (its name) and what is then done, the more special before the more general.
_RULES: tuple[tuple[str, tuple[str, ...]], ...] = (
    # zones and settings
    (r"automatic|opposite mode|different modes", ("set-zone-modes",)),
    (r"zones?.*pipes? .*crossed|pipes of two zones", ("match-zones", "uncross-pipes")),
    (r"valve plugs|plugs? of .*valves? .*swapped", ("swap-valve-plugs",)),
    (r"zones?.*(cables?|wiring) .*crossed|cables of two zones|branch box", ("uncross-cables", "swap-valve-plugs")),
    (r"schedule|wired controller", ("set-schedule", "set-unit")),
    (r"customer's settings|timer|setting of the customer", ("set-unit", "set-schedule")),
    (r"installer setting|board settings?|setting is wrong|settings? after", ("set-board",)),
    (r"behaves as it was built|normal behaviour", ("explain-normal",)),
    (r"low.?ambient|too cold for it|weather too cold", ("low-ambient-kit",)),
    (r"too (great|large|big|small)|needs more than|needs less|oversized|undersized", ("explain-size",)),
    # sensors
    (r"sensors?'s? plug|plug.*sensor", ("mend-indoor-sensor-plug", "mend-outdoor-sensor-plug")),
    (r"pipe sensor.*(out of|slipped|pocket|place)", ("seat-pipe-sensor",)),
    (r"(coil's|coil|defrost) sensor.*(out of|slipped|holder|tube)", ("seat-coil-sensor",)),
    (r"discharge sensor.*(off its pipe|out of|slipped|clip|not on)", ("seat-discharge-sensor",)),
    (r"mislead|room sensor.*(place|sun|draught)", ("free-sensor-place",)),
    (r"leak (sensor|detector)|gas sensor|false alarm", ("replace-gas-sensor",)),
    (r"transducer|pressure sensor", ("replace-transducer",)),
    # water and frost
    (r"trap.*(dry|empty)", ("fill-trap", "clean-trap")),
    (r"trap", ("clean-trap", "fill-trap")),
    (r"float.*(stick|stuck|raised|held)", ("clean-float", "replace-float")),
    (r"float", ("replace-float",)),
    (r"pump.*(hose|discharge line|lift line)", ("clear-pump-hose",)),
    (r"pump.*(no supply|no voltage|unpowered|supply)", ("mend-pump-wire", "replace-indoor-board")),
    (r"(drain|condensate) pump|pump does not lift", ("replace-pump",)),
    (r"hose.*(frozen|ice)|frozen.*hose", ("thaw-hose", "clear-drain")),
    (r"hose.*(fall|slope|rise|kink|drown|wrong)", ("reroute-hose",)),
    (r"(drain|hose).*(block|plug|animal|clog)|animal.*hose", ("clear-drain", "thaw-hose")),
    (r"melt water|base pan('s)? (drain|hole)", ("clear-pan-holes",)),
    (r"base (pan )?heater", ("replace-base-heater",)),
    (r"crankcase", ("replace-crankcase-heater",)),
    (r"snow|roof water|drips? on", ("clear-snow", "divert-drip")),
    (r"level", ("level-indoor-unit",)),
    (r"pan .*(crack|broken)|crack.* pan", ("replace-pan",)),
    (r"slime|mould|biofilm", ("clean-pan",)),
    (r"sweat|insulation is missing|insulation .*pipe", ("mend-insulation",)),
    (r"wall opening|sleeve|wall.*(seal|gap)", ("seal-wall",)),
    # air
    (r"air filter|filter is blocked", ("clean-filter",)),
    (r"wheel.*(cake|dirt)", ("clean-wheel",)),
    (r"wheel.*(slip|loose)", ("fix-indoor-wheel",)),
    (r"wheel", ("free-indoor-wheel",)),
    (r"indoor coil.*(mat|dirt)", ("clean-indoor-coil",)),
    (r"outdoor coil.*(mat|dirt)", ("clean-outdoor-coil", "remove-nest")),
    (r"nest|animal|insect", ("remove-nest", "clean-outdoor-board", "clear-drain")),
    (r"before the indoor unit|sends its air straight back", ("free-indoor-unit",)),
    (r"breathes its own air|outdoor.*(clearance|space)", ("free-outdoor-unit",)),
    (r"\bducts?\b|static", ("mend-ducts",)),
    (r"vane|louver|louvre", ("replace-vane-motor",)),
    # noise
    (r"panel|grille", ("fasten-panel",)),
    (r"pipe touches|touches wall", ("free-line",)),
    (r"mount|feet|vibration", ("mend-feet",)),
    # fans
    (r"run capacitor|fan's? capacitor", ("replace-run-capacitor",)),
    (r"indoor fan's? (plug|connector)", ("mend-indoor-fan-plug",)),
    (r"indoor fan motor", ("replace-indoor-fan-motor",)),
    (r"outdoor fan's? (plug|connector)", ("mend-outdoor-fan-plug",)),
    (r"outdoor fan motor", ("replace-outdoor-fan-motor",)),
    (r"blade.*(slip|loose on)", ("fix-outdoor-blade",)),
    (r"outdoor (fan|blade)", ("free-outdoor-blade",)),
    # indoor electronics
    (r"network adapter", ("seat-adapter",)),
    (r"hung|frozen processor|processor", ("power-rest",)),
    (r"display('s)? plug|plug of the display", ("seat-display-plug",)),
    (r"receiver", ("replace-receiver",)),
    (r"display", ("replace-display",)),
    (r"remote", ("replace-remote-batteries", "reset-remote")),
    (r"indoor.*fuse", ("replace-indoor-fuse",)),
    (r"indoor board", ("replace-indoor-board",)),
    # supply
    (r"neutral", ("mend-neutral",)),
    (r"generator", ("better-generator",)),
    (r"leg of the supply|leg is|pull-?out|disconnect('s)? fuse", ("restore-leg", "replace-pull-out-fuse")),
    (r"supply (wire|cable).*(too thin|size)|wire is too thin", ("rewire-supply",)),
    (r"supply (wire|cable|wiring).*(short|earth|damag)|whip", ("rewire-supply",)),
    (r"(wet|water|damp).*(disconnect|junction)|disconnect.*(wet|water|leak)", ("dry-disconnect",)),
    (r"breaker.*(share|another load)|shared", ("own-circuit",)),
    (r"breaker.*(off|switched)", ("switch-breaker-on",)),
    (r"breaker", ("replace-breaker",)),
    (r"supply terminal|terminal is loose", ("tighten-supply-terminals", "tighten-signal-terminals")),
    (r"supply voltage|sag", ("call-utility",)),
    # signal line
    (r"signal terminal|terminal screw", ("tighten-signal-terminals",)),
    (r"conductors? .*(different|swapped)|terminals? .*swapped|reversed", ("swap-signal-wires",)),
    (r"noise disturbs|interference", ("reroute-cable",)),
    (r"joint in the cable|splice", ("splice-cable", "tighten-signal-terminals")),
    (r"cable", ("replace-cable",)),
    # compressor
    (r"leads? .*swapped|turns backwards", ("swap-compressor-leads",)),
    (r"compressor (terminal|lead)", ("mend-compressor-terminals",)),
    (r"overload", ("replace-overload",)),
    (r"compressor|rotor|winding (is|lies)", ("replace-compressor",)),
    # outdoor electronics
    (r"heat sink", ("tighten-module",)),
    (r"power module|inverter module", ("replace-module",)),
    (r"bus capacitor", ("replace-bus-capacitors",)),
    (r"soft.?start", ("replace-soft-start",)),
    (r"rectifier|bridge", ("replace-bridge",)),
    (r"reactor", ("replace-reactor",)),
    (r"boost|power factor", ("replace-outdoor-board",)),
    (r"surge|varistor|arrester", ("replace-outdoor-board",)),
    (r"outdoor.*fuse|fuse on the outdoor", ("replace-outdoor-fuse",)),
    (r"outdoor board", ("replace-outdoor-board",)),
    # valves
    (r"expansion valve.*(plug|connector)|plug of the expansion valve", ("seat-valve-plug",)),
    (r"expansion valve.*(coil).*(lift|seat|off)", ("seat-valve-coil",)),
    (r"expansion valve.*coil", ("replace-valve-coil", "seat-valve-coil")),
    (r"expansion valve.*(drive|output|board)", ("replace-outdoor-board",)),
    (r"expansion valve", ("replace-valve-body",)),
    (r"reversing valve.*(no voltage|unpowered|wire)", ("mend-reversing-wire", "replace-outdoor-board")),
    (r"reversing valve.*coil", ("replace-reversing-coil",)),
    (r"reversing valve", ("replace-reversing-valve",)),
    (r"(wire|plug).*high pressure switch", ("mend-high-switch-wire",)),
    (r"high.pressure switch", ("replace-high-switch",)),
    (r"(wire|plug).*low pressure switch", ("mend-low-switch-wire",)),
    (r"low.pressure switch", ("replace-low-switch",)),
    # refrigerant
    (r"indoor coil leak|leak.*indoor coil", ("replace-indoor-coil",)),
    (r"inside the outdoor unit|outdoor (coil|pipe).*leak", ("mend-outdoor-pipe",)),
    (r"indoor (joint|flare)|flare.*(poor|badly)", ("mend-indoor-flare",)),
    (r"outdoor (joint|flare)", ("mend-outdoor-flare",)),
    (r"service valve.*(not fully|closed|not open)", ("open-stems",)),
    (r"service (valve|port)|valve core", ("mend-service-valve",)),
    (r"leak.*(wall|pipes)|pipes leak", ("replace-line-set",)),
    (r"kink|crush", ("mend-kink",)),
    (r"longer|higher than allowed|too long|oil trap|oil stays", ("shorten-line",)),
    (r"strainer|drier|filter.*line", ("replace-drier",)),
    (r"refrigerant|charge|air in the|non-?condens|moisture|water in the circuit", ("weigh-charge",)),
)
_COMPILED = tuple((re.compile(pattern), works) for pattern, works in _RULES)


@cache
def work_of(suspect: str, name: str, component: str, say: str) -> tuple[str, ...]:
    """Repairs of the world, in the order in which the sentence offers them; empty when it is not understood.

    ``name`` is the fault as spoken; where it says too little the component and the id help out.
    """
    for heard in (name.lower(), component.lower().replace("-", " "), suspect.replace("-", " ")):
        works = _of(heard)
        if works:
            return works
    return ()


def _of(heard: str) -> tuple[str, ...]:
    sensor = re.search(_SENSOR, heard)
    if sensor and re.search(r"open|short|drift|broken|curve|failed", heard):
        return (f"replace-{_SENSORS[sensor.group(1)]}-sensor",)
    return next((works for pattern, works in _COMPILED if pattern.search(heard)), ())
