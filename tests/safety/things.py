"""Things that come off in a step, and by what words they go and come back."""

from __future__ import annotations

import re

#: Things that come off, by what is said when they do and when they are ordered back.
THINGS: tuple[tuple[str, str, str], ...] = (
    ("compressor leads", r"(compressor leads|(?<!motor )\bleads|clips) off\b", r"leads back on u, v and w"),
    ("terminal cap", r"\bcap off the compressor", r"terminal cap back on"),
    ("supply wires", r"\bsupply wires off\b", r"supply wires back on"),
    ("signal conductors", r"\bsignal (pair|conductors) off\b|\bpair off at|\bunclip the pair\b", r"conductors back on"),
    ("clip on the pair", r"\bclip the pair together\b", r"clip off the signal pair"),
    ("clip to ground", r"\bclip one [^.]*to ground\b", r"clip off the ground"),
    ("fan plug", r"\b(motor|fan) plug off\b|\bpull [^.]*fan plug|fan motor's plug [^.]*\. pull it", r"fan's plug back"),
    (
        "sensor plugs",
        r"\bpull [^.]*sensors?' ?s? plugs?\b|\bpull [^.]*sensor's plug\b|\bsensor plug[^.]*pull it",
        r"sensor plugs",
    ),
    ("float plug", r"\bunplug the float\b", r"float switch plugged in"),
    ("pump plug", r"\bpump's lead unplugged\b", r"pump plugged in"),
    ("pump hose", r"\bpull the hose off the pump", r"hose back on"),
    ("heater plug", r"\bheater unplugged\b", r"heater plugged in"),
    ("reactor plug", r"\bpull the reactor's plug\b", r"reactor plugged in"),
    ("overload plug", r"\bpull the overload's plug\b", r"overload's plug back"),
    ("switch plug", r"\bpull the switch's plug\b", r"pressure switch plugged in"),
    ("valve coil plug", r"\bcoil unplugged\b|\bvalve's plug [^.]*pull it\b", r"valve coil plugged in"),
    ("valve coil", r"\blift the coil off\b", r"valve coil back on"),
    ("network adapter", r"\bdraw it out\b", r"network adapter back"),
    ("air filter", r"\bdraw the filter out\b", r"air filter back"),
    (
        "thermometer clamps",
        r"\bone probe on the discharge pipe\b|\bone clamp on each\b|\bclamp the valve's three pipes\b",
        r"thermometer clamps out",
    ),
)
#: By what words a repair leaves a thing in its place.
MENDED = {
    "compressor leads": r"change the compressor|renew leads and clips|put each lead back",
    "terminal cap": r"change the compressor|cap on again",
    "signal conductors": r"conductor on the same number|conductors over|cable to the terminals|zones' signal cables|"
    r"new (signal )?cable|new (in|out)door board",
    "fan plug": r"fan's plug|fan motor|board",
    "sensor plugs": r"sensor|board",
    "float plug": r"float",
    "pump plug": r"pump",
    "pump hose": r"pump",
    "heater plug": r"heater",
    "reactor plug": r"reactor|board",
    "overload plug": r"overload|compressor",
    "switch plug": r"switch|pressure",
    "valve coil plug": r"coil|valve|board",
    "valve coil": r"coil|valve",
    "network adapter": r"adapter",
    "air filter": r"filter",
    "supply wires": r"board|terminal|rectifier",
}
THING_WORDS = tuple((name, re.compile(off), re.compile(back)) for name, off, back in THINGS)
