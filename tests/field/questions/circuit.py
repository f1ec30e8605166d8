"""Refrigerant circuit: pressures, leaks, valves, pressure switches, installation."""

from tests.field.questions.entry import Do, Entry, Hear, Look, Measure, same

_COOLING, _HEATING = frozenset({"cooling"}), frozenset({"heating"})

TABLE: dict[str, Entry] = {
    "pressure-trip-mode.mode": Do("try which mode trips on pressure", same("cooling", "heating", "both", "never")),
    "pressure-outdoor-coil-rise.coil": Measure("temperature", "outdoor coil bend", _COOLING),
    "pressure-outdoor-coil-rise.air": Measure("temperature", "outdoor air in the shade"),
    "pressure-condensing-heating.pressure": Measure("pressure_gauge", "gas port", _HEATING),
    "pressure-high-circuit.circuit": Measure("resistance", "high-pressure switch plug"),
    "pressure-high-switch.pressure": Measure("pressure_gauge", "gas port at rest"),
    "pressure-high-switch.contact": Look("high-pressure switch contact", same("closed", "open")),
    "pressure-high-wires.wires": Measure("resistance", "high-pressure switch wires"),
    "pressure-low-circuit.circuit": Measure("resistance", "low-pressure switch plug"),
    "pressure-low-switch.pressure": Measure("pressure_gauge", "gas port at rest"),
    "pressure-low-switch.contact": Look("low-pressure switch contact", same("closed", "open")),
    "pressure-low-wires.wires": Measure("resistance", "low-pressure switch wires"),
    "circuit-pipes-feel.pipes": Look(
        "pipes at the outdoor valves",
        {"normal": "normal", "thin frost": "thin-frost", "thick frost": "thick-frost", "warm": "warm"},
    ),
    "leak-oil-look.oil": Look(
        "oil at joints",
        {
            "indoor joint": "indoor-joint",
            "outdoor joint": "outdoor-joint",
            "valve": "valve",
            "coil": "coil",
            "nowhere": "nowhere",
        },
    ),
    "leak-detector-sweep.place": Do(
        "sweep with the detector",
        {
            "indoor joint": "indoor-joint",
            "outdoor joint": "outdoor-joint",
            "valve": "valve",
            "coil": "coil",
            "wall": "wall",
            "nowhere": "nowhere",
        },
    ),
    "leak-soap-joints.bubbles": Do(
        "soap the joints",
        {"indoor joint": "indoor-joint", "outdoor joint": "outdoor-joint", "valve": "valve", "nowhere": "nowhere"},
    ),
    "leak-coil-sniff.gas": Do("hold the detector at the pan", {"sounds": "yes", "silent": "no"}),
    "leak-outdoor-sniff.gas": Do("lead the detector through the outdoor unit", {"sounds": "yes", "silent": "no"}),
    "leak-sections.falls": Do("pressurise the sections", same("pipes", "coil", "none")),
    "commission-leak-check.tight": Do("test for leaks after the work", same("yes", "no")),
    "commission-nitrogen-hold.start": Measure("pressure_gauge", "nitrogen at the start"),
    "commission-nitrogen-hold.start-air": Measure("temperature", "outdoor air in the shade"),
    "commission-nitrogen-hold.end": Measure("pressure_gauge", "nitrogen at the end"),
    "commission-nitrogen-hold.end-air": Measure("temperature", "outdoor air in the shade"),
    "commission-vacuum-decay.reached": Measure("vacuum", "reached"),
    "commission-vacuum-decay.middle": Measure("vacuum", "ten minutes later"),
    "commission-vacuum-decay.after": Measure("vacuum", "twenty minutes later"),
    "commission-charge.mass": Measure("mass", "weighed in"),
    "commission-charge.length": Measure("length", "pipes one way"),
    "circuit-gas-pressure.pressure": Measure("pressure_gauge", "gas port", _COOLING),
    "circuit-superheat.pressure": Measure("pressure_gauge", "gas port", _COOLING),
    "circuit-superheat.line": Measure("temperature", "thick pipe", _COOLING),
    "circuit-subcooling.pressure": Measure("pressure_gauge", "gas port", _HEATING),
    "circuit-subcooling.line": Measure("temperature", "thin pipe", _HEATING),
    "circuit-standing-pressure.pressure": Measure("pressure_gauge", "gas port at rest"),
    "circuit-standing-pressure.temperature": Measure("temperature", "cooler coil at rest"),
    "circuit-strainer-drop.before": Measure("temperature", "before the strainer", _COOLING),
    "circuit-strainer-drop.behind": Measure("temperature", "behind the strainer", _COOLING),
    "circuit-recover-weigh.mass": Measure("mass", "recovered"),
    "circuit-recover-weigh.length": Measure("length", "pipes one way"),
    "eev-power-up-listen.sound": Hear("expansion valve at power-up", same("ticks", "buzzes", "silent")),
    "eev-idle-zone.idle": Look("pipes of zones that are off", same("warm", "cold")),
    "eev-coil-seat.seat": Look("expansion valve coil", same("locked", "lifted")),
    "eev-press-restart.pipes": Do("press the valve coil down and restart", {"cold": "yes", "not cold": "no"}),
    "eev-plug-look.plug": Look("expansion valve plug", same("good", "bad")),
    "eev-coil-ohms.windings": Measure("resistance", "expansion valve coil"),
    "eev-magnet-set.set": Look("expansion valve coil", {"locked": "set", "lifted": "set"}),
    "eev-magnet-turn.follows": Do(
        "turn the needle with a magnet",
        {"follows": "follows", "stays low": "stays-low", "stays high": "stays-high"},
    ),
    "reversing-both-modes.modes": Do(
        "try both modes",
        {"both": "both", "cooling": "cooling-only", "heating": "heating-only", "neither": "neither"},
    ),
    "reversing-listen.thump": Hear("reversing valve shifting", {"thump": "yes", "silent": "no"}),
    "reversing-voltage-shift.volts": Do(
        "measure the reversing coil's voltage as it should shift",
        {"shifts": "shifts", "no shift": "no-shift", "no voltage": "no-voltage"},
    ),
    "reversing-coil-pull.pull": Do("hold steel to the reversing coil", {"pulls": "yes", "no pull": "no"}),
    "reversing-coil-warm.warm": Look("reversing coil's warmth after heating", {"warm": "yes", "cold": "no"}),
    "reversing-coil-ohms.coil": Measure("resistance", "reversing coil"),
    "reversing-pipe-temps.entering": Measure("temperature", "cold pipe entering the reversing valve"),
    "reversing-pipe-temps.leaving": Measure("temperature", "suction pipe leaving the reversing valve"),
    "reversing-pipe-temps-other.entering": Measure(
        "temperature", "cold pipe entering the reversing valve", frozenset({"other mode"})
    ),
    "reversing-pipe-temps-other.leaving": Measure(
        "temperature", "suction pipe leaving the reversing valve", frozenset({"other mode"})
    ),
    "install-line-look.shape": Look("pipes along their way", same("round", "kinked")),
    "install-bend-drop.before": Measure("temperature", "before the bend"),
    "install-bend-drop.behind": Measure("temperature", "behind the bend"),
    "install-valve-stems.stems": Look("service valve stems", {"out": "yes", "not out": "no"}),
    "install-line-length.length": Measure("length", "pipes one way"),
    "install-line-length.height": Measure("length", "height between the units"),
    "install-charge-label.label": Look(
        "charge label", {"added": "added", "not needed": "not-needed", "not-noted": "not-noted"}
    ),
    "install-charge-added.mass": Measure("mass", "added at installation"),
    "install-charge-added.length": Measure("length", "pipes one way"),
    "install-oil-trap.trap": Look("oil trap", same("there", "not-asked", "missing")),
    "install-riser-height.rise": Measure("length", "rise of the thick pipe"),
    "install-flare-torque.nuts": Do("put the torque wrench on the flare nuts", same("hold", "indoor", "outdoor")),
    "install-flare-face.face": Look("flare face", same("even", "poor")),
}
#: The technician does as told: the plate's charge is in after a repair, and the probes are on where they belong.
ALWAYS = {
    "commission-charge-plate.weighed": "yes",
    "top-clamps-on.set": "set",
    "strainer-clamps-on.set": "set",
    "reversing-clamps-on.set": "set",
}
