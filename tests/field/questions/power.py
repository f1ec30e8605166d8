"""Safety procedures, supply and breaker."""

from tests.field.questions.entry import Do, Entry, Look, Measure, same

TABLE: dict[str, Entry] = {
    "lock-out-power.state": Do("lock out", same("done")),
    "prove-dead.voltage": Measure("voltage_dc", "outdoor bus"),
    "restore-power.state": Do("switch on", same("done", "trips")),
    "mains-dead-outdoor.mains": Measure("voltage_ac", "outdoor mains"),
    "prove-dead-series.voltage": Measure("voltage_dc", "two bus capacitors in series"),
    "bus-lower.voltage": Measure("voltage_dc", "outdoor bus"),
    "mains-dead-indoor.mains": Measure("voltage_ac", "indoor mains"),
    "prove-dead-indoor.voltage": Measure("voltage_dc", "indoor bus"),
    "prove-dead-signal.mains": Measure("voltage_ac", "line mains"),
    "prove-dead-signal.voltage": Measure("voltage_dc", "line direct volts"),
    "prove-dead-line.mains": Measure("voltage_ac", "line mains"),
    "prove-dead-line.voltage": Measure("voltage_dc", "line direct volts"),
    "prove-dead-supply.mains": Measure("voltage_ac", "mains behind the lock"),
    "circuit-told.state": Look("what the circuit holds by the gauge", {"refrigerant": "charged", "empty": "recovered"}),
    "breaker-look.breaker": Look(
        "breaker", {"on": "on", "had tripped": "had-tripped", "trips again": "trips-again", "off": "off"}
    ),
    "breaker-unit-off.breaker": Do("press the breaker in with the disconnect off", same("holds", "trips")),
    "mains-frequency.frequency": Measure("frequency", "outdoor terminals"),
    "supply-cable-insulation.insulation": Measure("resistance", "supply cable insulation"),
    "disconnect-look.box": Look("disconnect box", same("dry", "wet")),
    "outdoor-terminals-insulation.resistance": Measure("resistance", "outdoor terminals to earth"),
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
    "breaker-trip-current.rating": Measure("current", "breaker rating"),
    "breaker-trip-current.kind": Look("breaker's kind", {"plain": "plain", "test button": "ground-fault"}),
    "breaker-trip-current.tripped": Do("run until the breaker trips", {"tripped": "yes", "held": "no"}),
    "supply-terminal-look.colour": Look("supply terminals", same("clean", "brown")),
    "supply-terminal-tug.tug": Do("tug the supply wires", same("firm", "moved")),
    "supply-wire-size.size": Look(
        "supply wire size", {"enough": "enough", "thin": "thinner", "unreadable": "unreadable"}
    ),
}
#: What the technician does as told, with a meter that is good.
ALWAYS = {
    **{
        f"{proof}.tried": "yes"
        for proof in (
            "prove-dead",
            "prove-dead-series",
            "prove-dead-indoor",
            "prove-dead-signal",
            "prove-dead-line",
            "prove-dead-supply",
        )
    },
    "recover-charge.state": "done",
    "purge-circuit.state": "done",
    "put-back.state": "done",
    "room-aired.detector": "yes",
}
#: No unit of these families has three phases: nothing to measure.
NONE_HERE = frozenset(
    {"supply-volts-phases.voltages", "rectifier-diodes-phases.upper", "rectifier-diodes-phases.lower"}
)
