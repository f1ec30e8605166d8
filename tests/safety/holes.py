"""The holes that were found once (issue 17), each put in again, and a visit that falls into it.

A hole is made in memory, in the knowledge or in a rule of the dialogue. Without it the same visit breaks nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from typing import Any
from unittest.mock import patch

from assistant.dialogue.facts import PrecautionAcknowledged
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Heard
from assistant.library.loader import Library
from assistant.library.touching import CircuitUse, Touch
from tests.safety.scripted import Led

Changes = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True)
class Hole:
    """``number`` of the issue's list, what it is, how it is made, the visit, and the rule that must name it."""

    number: str
    what: str
    visit: Callable[[Led], object]
    rule: str
    checks: Changes | None = None
    without: tuple[str, ...] = ()  # checks that are left out
    repairs: Changes | None = None
    hazards: Changes | None = None
    precautions: Changes | None = None
    symptoms: Changes | None = None
    code: tuple[tuple[str, object], ...] = ()  # names in modules, and what stands there instead

    def library(self, sound: Library) -> Library:
        """The knowledge with the hole in it."""
        checks = {name: check for name, check in sound.checks.items() if name not in self.without}
        suspects = dict(sound.suspects)
        for name, changes in (self.repairs or {}).items():
            repair = suspects[name].repair.model_copy(update=dict(changes))
            suspects[name] = suspects[name].model_copy(update={"repair": repair})
        return replace(
            sound,
            checks=_changed(checks, self.checks),
            suspects=suspects,
            hazards=_changed(sound.hazards, self.hazards),
            precautions=_changed(sound.precautions, self.precautions),
            symptoms=_changed(sound.symptoms, self.symptoms),
        )

    @contextmanager
    def made(self) -> Iterator[None]:
        """The rules of the dialogue with the hole in them."""
        with ExitStack() as stack:
            for name, other in self.code:
                stack.enter_context(patch(name, other))
            yield


def _changed(items: Mapping[str, Any], changes: Changes | None) -> dict[str, Any]:
    return {name: item.model_copy(update=dict((changes or {}).get(name, {}))) for name, item in items.items()}


def _no_hazard(library: Library, check: str) -> dict[str, Any]:
    outcomes = library.checks[check].outcomes
    return {"outcomes": {name: outcome.model_copy(update={"hazard": None}) for name, outcome in outcomes.items()}}


def _any_word_counts(turn: Turn, heard: Heard) -> bool:
    for caution in turn.state.acknowledging:
        turn.emit(PrecautionAcknowledged(precaution=caution.precaution))
    return True


def holes(library: Library) -> list[Hole]:
    """Every hole of the list."""
    return [
        Hole(
            "1",
            "breaker-look tells to reset while the unit is proved dead",
            lambda led: led.begin().check("winding-resistance").check("breaker-look").ask("is-it-safe"),
            "safe-is-true",
            checks={"breaker-look": {"probes": "Stand aside, and reset the breaker once."}},
        ),
        Hole(
            "1",
            "a repair that switches off and on again is done on a unit taken apart",
            lambda led: led.begin().check("winding-resistance").ask("skip").repair("control-frozen"),
            "put-back-before-power",
            repairs={"control-frozen": {"energy": "any", "may_energize": False}},
        ),
        Hole(
            "2",
            "the mains beside a dead bus is not measured",
            lambda led: led.begin().check("winding-resistance"),
            "dead-before-touch",
            without=("mains-dead-outdoor", "mains-dead-indoor"),
        ),
        Hole(
            "2",
            "what was shown outdoors is spent indoors",
            lambda led: led.begin().check("indoor-fan-ohms"),
            "dead-before-touch",
            checks={"indoor-fan-ohms": {"touches": (Touch(what="plug", at="outdoor"),)}},
        ),
        Hole(
            "3",
            "a compressor to ground does not bar the power",
            lambda led: led.begin().check("compressor-to-earth").choose("warm").read(0.4e6).check("start-current"),
            "power-only-when-clear",
            checks={"compressor-to-earth": _no_hazard(library, "compressor-to-earth")},
        ),
        Hole(
            "3",
            "a burnt smell, and the fan is set to high",
            lambda led: led.begin("smell-burnt").check("indoor-fan-look"),
            "power-only-when-clear",
            symptoms={"smell-burnt": {"hazard": None}},
        ),
        Hole(
            "3",
            "a short that was read is forgotten as the check is left",
            lambda led: led.begin().check("module-diodes").read(0.0).ask("skip").check("bus-volts"),
            "power-only-when-clear",
            code=(("assistant.dialogue.in_doubt.raise_told", lambda turn, check, outcome: None),),
        ),
        Hole(
            "4",
            "the breaker trips at once, and it is measured until it trips",
            lambda led: led.begin("breaker-trips-at-once").check("breaker-trip-current"),
            "power-only-when-clear",
            symptoms={"breaker-trips-at-once": {"hazard": None}},
        ),
        Hole(
            "5",
            "joints are tugged after the lock alone",
            lambda led: led.begin().check("splice-look"),
            "dead-before-touch",
            checks={"splice-look": {"energy": "isolated", "touches": (Touch(what="cover", at="line"),)}},
        ),
        Hole(
            "5",
            "the pump is renewed after the lock alone",
            lambda led: led.begin().repair("drain-pump-failed"),
            "dead-before-touch",
            repairs={"drain-pump-failed": {"energy": "isolated", "touches": (Touch(what="water", at="indoor"),)}},
        ),
        Hole(
            "6",
            "clips come off the pins of a charged compressor",
            lambda led: led.begin().check("winding-at-pins"),
            "recovered-before-opened",
            checks={"winding-at-pins": {"circuit": CircuitUse()}},
        ),
        Hole(
            "6",
            "wires held together at five hundred volts",
            lambda led: led.begin().check("commission-insulation"),
            "no-hand-at-500-V",
            checks={
                "commission-insulation": {
                    "probes": "Supply wires off and held together. Tester clipped on them, earth."
                }
            },
        ),
        Hole(
            "7",
            "yes to something else acknowledges a caution",
            lambda led: led.begin().ask("check", "winding-resistance").choose("done").choose("yes"),
            "understood-first",
            code=(("assistant.dialogue.step._acknowledge", _any_word_counts),),
        ),
        Hole(
            "8",
            "the compressor leads stay off as the power returns",
            lambda led: led.begin().check("winding-resistance").check("bus-volts"),
            "put-back-before-power",
            checks={"winding-resistance": {"takes_off": ()}},
        ),
        Hole(
            "9",
            "the stored charge is not measured",
            lambda led: led.begin().check("winding-resistance"),
            "dead-before-touch",
            without=("prove-dead", "prove-dead-series"),
        ),
        Hole(
            "9",
            "charge that does not fall is waited for without end",
            lambda led: led.begin().check("winding-resistance", "prove-dead").wait(60).read(310.0).wait(60).read(305.0),
            "not-falling",
            code=(("assistant.dialogue.waiting._from_decay", lambda measured, target_v: None),),
        ),
        Hole(
            "9",
            "a diode test at what hands may touch",
            lambda led: led.begin().check("module-diodes"),
            "stored-for-diodes",
            checks={"module-diodes": {"bus_below_v": None}},
            code=(("tests.safety.scripted.WILLING_V", 3.0),),
        ),
        Hole(
            "10",
            "it cannot be locked, and the terminals are probed",
            lambda led: led.begin().ask("check", "winding-resistance").choose("cannot").check("supply-volts"),
            "no-touch-when-barred",
            hazards={"cannot-lock": {"bars": ()}},
        ),
        Hole(
            "11",
            "a live check outdoors without ladder and edge",
            lambda led: led.begin().check("bus-volts"),
            "caution: edge",
            precautions={"roof-edge": {"comes_with": ()}, "ladder": {"comes_with": ()}},
            checks={"bus-volts": {"precautions": (), "touches": (Touch(what="live-probe", at="outdoor"),)}},
        ),
        Hole(
            "11",
            "the fan is named once a visit",
            lambda led: led.begin().check("bus-volts").check("winding-resistance").check("bus-volts"),
            "fan-after-power-up",
            precautions={"rotating-fan": {"repeat": "visit"}},
        ),
        Hole(
            "11",
            "a flame at a circuit that was not purged",
            lambda led: led.begin().repair("liquid-line-restricted"),
            "flame-only-when-purged",
            repairs={"liquid-line-restricted": {"circuit": CircuitUse(needs=("recovered",), makes="opened")}},
        ),
        Hole(
            "11",
            "water is poured beside a running fan",
            lambda led: led.begin("water-indoors").check("drain-pan-pour"),
            "water-and-power",
            checks={"drain-pan-pour": {"energy": "live", "touches": (), "probes": "Pour half a liter into the pan."}},
        ),
        Hole(
            "12",
            "after four hours of hold the windings are gone to",
            lambda led: led.begin().check("winding-resistance").ask("wait").wait(14400).ask("resume"),
            "long-hold",
            code=(("assistant.dialogue.breaks.LONG_S", 1e9),),
        ),
        Hole(
            "12",
            "a caution that was interrupted is not said again",
            lambda led: (
                led.begin().ask("check", "winding-resistance").choose("done").ask("wait").wait(60).ask("resume")
            ),
            "caution-again",
            code=(("assistant.dialogue.commands.say_again", lambda turn: None),),
        ),
        Hole(
            "12",
            "a profile lets 290 V count as dead",
            lambda led: led.begin().check("winding-resistance", "prove-dead").read(290.0).choose("yes").to("winding"),
            "dead-before-touch",
            checks={"prove-dead": _judged_by_the_meter_alone(library)},
            code=(("assistant.dialogue.proving._CEILING", {"mains": 12.0, "stored": 300.0}),),
        ),
        Hole(
            "12",
            "the power is said to be back, and hands stay in",
            lambda led: led.begin().check("winding-resistance").ask("power-back").check("module-diodes"),
            "dead-before-touch",
            code=(("assistant.dialogue.breaks.begin_anew", lambda turn, because: False),),
        ),
        Hole(
            "13",
            "somebody got a shock, and something else is said first",
            lambda led: led.begin().call("shock"),
            "emergency-first",
            hazards={"shock": {"first": "Let us go on."}},
        ),
        Hole(
            "13",
            "a refrigerant alarm, and the visit goes on",
            lambda led: led.begin().call("gas-alarm").ask("resume").check("outdoor-unit-look"),
            "power-only-when-clear",
            hazards={"refrigerant-alarm": {"bars": (), "also": ()}, "leak-open": {"bars": ()}},
        ),
    ]


def _judged_by_the_meter_alone(library: Library) -> dict[str, Any]:
    judge = library.checks["prove-dead"].judge
    options = {"map": {"yes": "dead", "no": "untried"}}
    return {
        "judge": judge.model_copy(
            update={"by": "finding", "inputs": {"choice": "tried"}, "options": options, "limits": {}}
        )
    }
