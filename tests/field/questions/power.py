"""Safety procedures, supply and breaker."""

from tests.field.questions.entry import Do, Entry, Look, Measure, same

TABLE: dict[str, Entry] = {
    "lock-out-power.state": Do("lock out", same("done")),
    "prove-dead.voltage": Measure("voltage_dc", "outdoor bus"),
    "restore-power.state": Do("switch on", same("done", "trips")),
    "breaker-look.breaker": Look(
        "breaker", {"on": "on", "had tripped": "had-tripped", "trips again": "trips-again", "off": "off"}
    ),
    "breaker-unit-off.breaker": Do("press the breaker in with the disconnect off", same("holds", "trips")),
    "lights-look.lights": Look("lights as it starts", {"dim": "yes", "steady": "no"}),
    "supply-volts.voltage": Measure("voltage_ac", "outdoor line to line"),
    "supply-legs-earth.voltages": Measure("voltage_ac", "outdoor legs to earth"),
    "supply-neutral.voltages": Measure("voltage_ac", "outdoor line to neutral and earth"),
    "supply-drop.idle": Measure("voltage_ac", "outdoor line to line"),
    "supply-drop.loaded": Measure("voltage_ac", "outdoor terminals under load"),
    "supply-drop-panel.idle": Measure("voltage_ac", "panel"),
    "supply-drop-panel.loaded": Measure("voltage_ac", "panel under load"),
    "running-current.current": Measure("current", "supply"),
    "breaker-trip-current.current": Measure("current", "supply until it trips"),
    "breaker-trip-current.tripped": Do("run until the breaker trips", {"tripped": "yes", "held": "no"}),
    "supply-terminal-look.colour": Look("supply terminals", same("clean", "brown")),
    "supply-terminal-tug.tug": Do("tug the supply wires", same("firm", "moved")),
    "supply-wire-size.size": Look(
        "supply wire size", {"enough": "enough", "thin": "thinner", "unreadable": "unreadable"}
    ),
}
#: No unit of these families has three phases: nothing to measure.
NONE_HERE = frozenset(
    {"supply-volts-phases.voltages", "rectifier-diodes-phases.upper", "rectifier-diodes-phases.lower"}
)
