"""Faults of the cable between the units and of the circuits at its ends."""

from __future__ import annotations

from math import inf

from tests.field.faults.fault import TRIO, Fault
from tests.field.machine.parts import Contact

_BROKEN_3 = (0.15, 0.15, inf)

FAULTS: tuple[Fault, ...] = (
    Fault(
        "signal-wire-broken",
        "the signal conductor is broken",
        "The loop is open: full level outdoors, nothing indoors, an open loop on the meter.",
        ({"zone.cable.conductor_ohm": _BROKEN_3},),
        ("replace-cable", "splice-cable"),
    ),
    Fault(
        "signal-wires-shorted",
        "the signal conductor touches its neighbour",
        "The level is pulled to nothing at both ends; off the terminals the two conductors read together.",
        ({"zone.cable.short_23_ohm": 0.4}, {"zone.cable.short_23_ohm": 160.0, "zone.cable.insulation_mohm": 0.001}),
        ("replace-cable", "splice-cable"),
    ),
    Fault(
        "signal-wires-swapped",
        "two conductors were swapped at a terminal",
        "The signal meets the wrong terminal; colours differ at the two ends.",
        ({"zone.cable.order": (0, 2, 1)}, {"zone.cable.order": (1, 0, 2)}),
        ("swap-signal-wires",),
        history="never",
    ),
    Fault(
        "bad-splice",
        "a hidden splice in the cable is bad",
        "Its resistance eats the level, or it opens now and then.",
        (
            {"zone.cable.splice": Contact(1100.0, "loose", 0.4)},
            {"zone.cable.splice": Contact(20e3, "loose", 0.0)},
        ),
        ("replace-cable", "splice-cable"),
    ),
    Fault(
        "signal-screw-loose",
        "a signal terminal screw is loose",
        "The contact opens now and then.",
        ({"zone.cable.screw.flaky": 0.5, "zone.cable.screw.state": "loose"},),
        ("tighten-signal-terminals",),
    ),
    Fault(
        "signal-disturbed",
        "the signal cable runs beside a power cable",
        "Another machine's current couples into it; telegrams are lost when that machine starts.",
        (
            {"zone.cable.route": "beside"},
            {"zone.cable.route": "unearthed"},
        ),
        ("reroute-cable",),
        sometimes=True,
        history="never",
        circumstances={"house.other_machine": True},
    ),
    Fault(
        "outdoor-signal-dead",
        "the outdoor board's signal circuit is dead",
        "No level comes from the outdoor board even with the cable off; all else on it lives.",
        ({"outdoor.board.signal": "dead"},),
        ("replace-outdoor-board",),
        dear=True,
    ),
    Fault(
        "outdoor-signal-weak",
        "the outdoor board gives half the signal level",
        "The level is low with the cable off as well; telegrams come and go.",
        ({"outdoor.board.signal_weak": 0.35}, {"outdoor.board.signal_weak": 0.6}),
        ("replace-outdoor-board",),
        dear=True,
    ),
    Fault(
        "indoor-signal-dead",
        "the indoor board's signal circuit is dead",
        "The full level stands at the indoor terminals and nothing closes the loop.",
        ({"zone.board.signal": "dead"},),
        ("replace-indoor-board",),
        dear=True,
    ),
    Fault(
        "indoor-feed-broken",
        "a conductor that feeds the indoor unit is broken",
        "The outdoor terminals are live and the indoor terminals are not.",
        ({"zone.cable.conductor_ohm": (inf, 0.15, 0.15)},),
        ("replace-cable", "splice-cable"),
    ),
    Fault(
        "cable-wet",
        "water in a joint of the cable leaks",
        "Insulation between the conductors is nearly gone; the level falls in wet weather.",
        (
            {
                "zone.cable.short_23_ohm": 700.0,
                "zone.cable.insulation_mohm": 0.004,
                "zone.cable.splice": Contact(2.0, "burnt", 0.0),
            },
        ),
        ("replace-cable", "splice-cable"),
    ),
    Fault(
        "zone-cables-crossed",
        "two zones' cables are crossed at the outdoor unit",
        "The zone that calls opens another zone's valve.",
        ({"cables_to": (1, 0, 2)}, {"cables_to": (2, 1, 0)}),
        ("uncross-cables",),
        units=TRIO,
        history="never",
    ),
    Fault(
        "indoor-terminal-loose",
        "a supply screw at the indoor unit is loose",
        "The indoor unit loses its supply now and then.",
        (
            {"zone.cable.feed_screw.ohm": 5e3, "zone.cable.feed_screw.state": "loose"},
            {"zone.cable.feed_screw.flaky": 0.5, "zone.cable.feed_screw.state": "loose"},
        ),
        ("tighten-signal-terminals", "replace-cable"),
    ),
)
