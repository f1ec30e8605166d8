"""Condensate, defrost, noise, smell."""

from tests.field.questions.entry import Do, Entry, Hear, Look, Measure, Smell, same

TABLE: dict[str, Entry] = {
    "drain-water-start.start": Look("where water starts", same("front", "low-end", "pipes", "wall", "nowhere")),
    "drain-hose-end.drip": Look("end of the drain hose", same("freely", "slowly", "dry")),
    "drain-hose-run.run": Look("run of the drain hose", same("falls", "rises", "kinked", "drowned")),
    "drain-wall-opening-look.seal": Look("wall opening", same("sealed", "gap", "inwards")),
    "drain-wall-draught.tissue": Do("hold a tissue at the wall opening", same("still", "moves")),
    "drain-insulation-look.cover": Look("pipe insulation", {"whole": "yes", "gaps": "no"}),
    "drain-unit-level.tilt": Look("level of the indoor unit", same("level", "to-drain", "away")),
    "drain-trap-look.trap": Look("drain trap", same("full", "empty", "choked")),
    "drain-float-move.float": Do("lift the float and let go", same("freely", "sticks")),
    "drain-pan-pour.level": Do("pour water into a pan that drains by itself", same("empties", "slow", "stays", "pump")),
    "drain-hose-suction.suction": Do("draw on the drain hose", same("free", "plug")),
    "drain-pump-runs.pump": Do("let the pump lift water", same("lifts", "hums", "silent")),
    "drain-pump-supply.volts": Do(
        "measure at the pump while it should lift",
        {"lifts": "works", "voltage, no lift": "dead-pump", "no voltage": "no-supply"},
    ),
    "drain-pump-free-lift.lift": Do(
        "let the pump lift without its hose", {"freely": "freely", "still not": "still-not"}
    ),
    "drain-pump-lead.wires": Measure("resistance", "pump lead"),
    "drain-float-continuity.contact": Measure("resistance", "float switch held down"),
    "drain-pan-seams.crack": Look("drain pan", {"sound": "holds", "cracked": "seeps"}),
    "drain-trap-proof.gurgle": Look("drain trap", {"full": "yes", "empty": "no", "choked": "no"}),
    "commission-drain-test.leaves": Do(
        "pour water into a pan that drains by itself", {"empties": "yes", "slow": "no", "stays": "no", "pump": "pump"}
    ),
    "commission-drain-pump.leaves": Do(
        "pour water into a pan that is pumped", {"empties": "yes", "slow": "no", "stays": "no", "no pump": "no-pump"}
    ),
    "drain-pump-hose-off.set": Look("condensate pump", {"there": "set"}),
    "defrost-weather-look.weather": Look("snow or drips", same("neither", "snow", "drip")),
    "defrost-ice-where.ice": Look("ice on the outdoor unit", same("none", "frost", "block", "bottom", "rows")),
    "defrost-pan-holes.holes": Do("pour water into the outdoor base pan", same("runs", "stands")),
    "defrost-sensor-seat.seat": Look("outdoor coil sensor", same("in", "out")),
    "defrost-heater-ohms.heater": Measure("resistance", "base heater"),
    "defrost-forced.result": Do(
        "force a defrost",
        {"clear": "clear", "ice left": "ice-left", "water stands": "water-stands", "nothing": "nothing"},
    ),
    "noise-kind.sound": Hear("noise", same("rattle", "hum", "hiss", "tick", "none")),
    "noise-press-panels.press": Do("press the outdoor panels", same("stops", "stays", "none")),
    "noise-move-line.lift": Do("lift the pipes off the wall", same("stops", "stays", "none")),
    "noise-lean-unit.lean": Do("lean on the outdoor unit", same("changes", "stays", "none")),
    "noise-mount-look.feet": Look("outdoor feet", {"sound": "yes", "hard": "no"}),
    "smell-kind.smell": Smell("indoor unit", same("musty", "drains", "burnt", "nothing")),
    "smell-pan-look.slime": Look("pan and coil", same("clean", "slime")),
}
