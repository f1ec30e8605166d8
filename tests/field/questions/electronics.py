"""Outdoor electronics, compressor, outdoor fan."""

from tests.field.questions.entry import Customer, Do, Entry, Hear, Look, Measure, Own, same

_UPPER, _LOWER = frozenset({"upper"}), frozenset({"lower"})

TABLE: dict[str, Entry] = {
    "outdoor-unit-look.motion": Look(
        "outdoor unit",
        {"both": "both", "fan": "fan", "compressor": "compressor", "neither": "neither", "stops soon": "stop"},
    ),
    "outdoor-fan-spin.feel": Do("turn the outdoor blade by hand", same("free", "stiff", "stuck")),
    "outdoor-fan-plug.plug": Look("outdoor fan plug", same("firm", "loose", "burnt")),
    "outdoor-fan-ohms.resistance": Measure("resistance", "outdoor fan supply to ground"),
    "outdoor-fan-volts.supply": Measure("voltage_dc", "outdoor fan supply"),
    "outdoor-fan-volts.control": Measure("voltage_dc", "outdoor fan command"),
    "outdoor-fan-volts.turning": Look("outdoor fan under command", {"turns": "yes", "still": "no"}),
    "trip-timing.moment": Hear(
        "when it stops",
        {
            "at-once": "at-once",
            "minute": "minute",
            "later": "later",
            "never": "runs",
            "never-starts": "never-starts",
        },
    ),
    "outdoor-lamp-look.lamps": Look("outdoor lamps", same("lit", "dark")),
    "soft-start-click.click": Hear("soft-start relay", {"clicks": "yes", "silent": "no"}),
    "bus-volts.voltage": Measure("voltage_dc", "outdoor bus"),
    "bus-volts.calling": Look("whether the unit is told to run", {"told": "yes", "not told": "no"}),
    "bus-sag.idle": Measure("voltage_dc", "outdoor bus at rest"),
    "bus-sag.loaded": Measure("voltage_dc", "outdoor bus under load"),
    "outdoor-low-volts.voltage": Measure("voltage_dc", "outdoor five volts"),
    "bus-capacitor-look.tops": Look("bus capacitors", same("flat", "bulged")),
    "outdoor-board-look.board": Look("outdoor board", same("clean", "heat", "wet", "marks")),
    "module-place.place": Look("power module place", same("own", "main")),
    "outdoor-fuse-ohms.resistance": Measure("resistance", "outdoor fuses"),
    "reactor-ohms.resistance": Measure("resistance", "reactor"),
    "soft-start-ohms.resistance": Measure("resistance", "soft-start relay contacts"),
    "bus-capacitance.capacitance": Measure("capacitance", "outdoor bus"),
    "heat-sink-look.seat": Look("heat sink", same("tight", "loose")),
    "rectifier-diodes.drops": Measure("voltage_dc", "bridge diodes"),
    "module-diodes.upper": Measure("voltage_dc", "module diodes", _UPPER),
    "module-diodes.lower": Measure("voltage_dc", "module diodes", _LOWER),
    "module-alone.trips": Do(
        "try the inverter without the motor", {"same": "same", "other": "other", "not allowed": "not-allowed"}
    ),
    "install-settings-look.settings": Look("outdoor board settings", same("match", "differ")),
    "compressor-listen.sound": Hear("compressor", same("smooth", "hum", "growl", "silent")),
    "restart-after-rest.rest": Customer("does it run again after an hour's rest", same("again", "never", "unknown")),
    "line-feel.pipes": Do("feel the pipes", same("clear", "small", "none")),
    "start-current.pattern": Do("clamp the compressor lead as it starts", same("pulse", "smooth", "weak", "zero")),
    "top-temperature.discharge": Measure("temperature", "discharge pipe"),
    "top-temperature.top": Measure("temperature", "compressor top"),
    "compressor-terminals-look.clips": Look("compressor terminals", same("bright", "burnt")),
    "compressor-leads-order.letters": Look("compressor lead letters", {"agree": "yes", "differ": "no"}),
    "winding-resistance.resistances": Measure("resistance", "compressor leads"),
    "winding-resistance.meter": Own("low-ohm meter", "low-ohm", "multimeter"),
    "winding-at-pins.resistances": Measure("resistance", "compressor pins"),
    "winding-at-pins.meter": Own("low-ohm meter", "low-ohm", "multimeter"),
    "compressor-to-earth.shell": Look("warmth of the compressor's shell", same("warm", "cold")),
    "compressor-to-earth.resistance": Measure("resistance", "compressor to earth"),
    "commission-insulation.insulation": Measure("resistance", "compressor to earth"),
    "commission-ground-continuity.ohms": Measure("resistance", "disconnect's earth to the case"),
    "top-overload-ohms.resistance": Measure("resistance", "compressor overload"),
}
