"""The signal line and the zones."""

from tests.field.questions.entry import Customer, Do, Entry, Look, Measure, same

TABLE: dict[str, Entry] = {
    "noise-moment.moment": Customer("when does it drop", {"machine": "machine", "any time": "any-time"}),
    "signal-route.route": Look("signal cable route", same("apart", "beside", "unearthed")),
    "splice-look.joint": Look("cable splice", same("whole", "sound", "bad")),
    "terminal-order.order": Look("terminal colours", same("same", "swapped", "unsure")),
    "signal-terminal-tug.tug": Do("tug the conductors between the units", same("firm", "moved")),
    "signal-polarity.pair": Do("ring the signal pair out", same("straight", "reversed", "neither")),
    "signal-volts.behaviour": Look("signal meter outdoors", same("jumping", "steady", "none")),
    "signal-volts.voltage": Measure("voltage_dc", "signal outdoors"),
    "signal-volts-indoor.behaviour": Look("signal meter indoors", same("jumping", "steady", "none")),
    "signal-volts-indoor.voltage": Measure("voltage_dc", "signal indoors"),
    "signal-cable-loop.resistance": Measure("resistance", "signal cable loop"),
    "signal-cable-insulation.resistance": Measure("resistance", "signal cable insulation"),
    "signal-source.voltage": Measure("voltage_dc", "signal source with the cable off"),
    "zones-failing.zones": Customer("which zones fail", same("one", "several", "all", "single")),
    "zone-modes-read.modes": Look("zone modes", same("same", "opposite", "automatic")),
    "zone-modes-same.run": Do("run all zones in one mode", {"all work": "all-work", "one waits": "still-waits"}),
    "zone-one-at-a-time.answers": Do("let only this zone call", same("own", "other", "none")),
    "zone-pipe-marks.pipes": Look("zone pipe marks", {"right": "yes", "wrong": "no"}),
    "zone-cable-ring.cable": Do("ring the zone cables out", same("own", "other", "nowhere")),
    "commission-all-zones.zones": Do(
        "let only this zone call", {"own": "each", "none": "one-idle", "other": "wrong-one"}
    ),
    "commission-communication.answers": Do("do all indoor units start the outdoor unit", same("yes", "no")),
}
