"""A check must not ask for what its energy state or its cautions do not allow."""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.data.yaml_lines import Path_
from assistant.library.demand import HANDLED, cautions_of
from assistant.library.finding import Finding
from assistant.library.kinds import Circuit
from assistant.library.loader import Library
from assistant.library.models import PROCEDURES, Check, Repair

#: Readings taken on live metal.
_LIVE_QUANTITIES = frozenset({"voltage_ac", "voltage_dc"})
#: Readings that harm meter and person on a live or charged circuit, and the instruments that inject a voltage.
_DEAD_QUANTITIES = frozenset({"resistance", "capacitance"})
_DEAD_INSTRUMENTS = frozenset({"diode-test", "insulation-tester"})
#: The judge whose limits no file can raise.
_PROVES = "no-voltage"


def unsafe(library: Library) -> Iterator[Finding]:
    """Live readings without their caution; readings on dead parts asked while something may be live."""
    for check in library.checks.values():
        for place, question in enumerate(check.ask):
            if question.reading is not None:
                reading = question.reading
                yield from _reading(check, reading.quantity, reading.instrument, place, library)
    for suspect in library.suspects.values():
        if suspect.condemn and suspect.repair.energy == "live":
            what = "its repair changes a part while the unit is live"
            yield Finding("suspect", suspect.id, what, "change parts isolated or proved dead", ("repair", "energy"))


def _reading(check: Check, quantity: str, instrument: str, place: int, library: Library) -> Iterator[Finding]:
    path = ("ask", place, "reading")
    dead = quantity in _DEAD_QUANTITIES or instrument in _DEAD_INSTRUMENTS
    if dead and check.energy not in ("isolated", "proved-dead"):
        what = f"it measures {quantity.replace('_', ' ')} in the state “{check.energy}”"
        yield Finding("check", check.id, what, "ask for it isolated or proved dead", path)
    guards = {item.id for item in library.precautions.values() if item.guards}
    if quantity in _LIVE_QUANTITIES and not dead and not guards & {*cautions_of(check, library)}:
        what = "it measures a voltage without the caution for it"
        yield Finding("check", check.id, what, "add the caution", path)
    meter = library.instruments.get(instrument)
    if meter is not None and meter.caution and meter.caution not in check.precautions:
        what = f"its tester injects a voltage and the caution “{meter.caution}” is missing"
        yield Finding("check", check.id, what, "add the caution", path)


#: Words of a step, and what its touches must hold one of. "Look only" and the like say that hands stay away.
_WORDS: tuple[tuple[str, frozenset[str]], ...] = (
    (r"\b(tug|unplug|unclip|reseat|pull (the|each|its) \w*plugs?)\b", HANDLED),
    (r"\bplug'?s? (out|off)\b", HANDLED),
    (r"\b(leads?|wires?|conductors?) off\b", HANDLED | {"live-probe"}),
    (r"\bbraz(e|ing)\b", frozenset({"flame"})),
    (r"\bpour\b", frozenset({"water"})),
    (r"\b(reset|switch(ed)? on|power on|(?<!leave the )breaker off)\b", frozenset()),
    (r"\b(ohms|diode test|capacitance range)\b", HANDLED),
    (r"\b[ad]c volts\b|\bprobes? on\b", HANDLED | {"live-probe", "refrigerant-joint", "hot", "sharp"}),
    (r"\b(cover|panel|cap) off\b|\bopen (the|each|every) \w*\s?(cover|box|cabinet)", HANDLED | {"cover"}),
    (r"\bclamp (with maximum|around)\b", frozenset({"live-probe"})),
    (r"\b(gauge on|weigh in|purge|evacuate)\b", frozenset({"refrigerant-circuit"})),
    (r"\b(rinse|flush)\b", frozenset({"water", "refrigerant-circuit"})),
    (r"\b(bubbles|spray the joints|soap)\b", frozenset({"refrigerant-joint", "refrigerant-circuit"})),
    (r"\bturn the (wheel|blade)|\bpush the (blade|vanes)|\breach through\b", frozenset({"moving-parts"})),
    (r"\bclip (one|the) \w*\s?(signal|conductor|pair)", HANDLED),
)
#: What each touch asks of the power, where the step is no procedure.
_ASKS: tuple[tuple[frozenset[str], frozenset[str], str], ...] = (
    (HANDLED, frozenset({"proved-dead"}), "proved dead"),
    (frozenset({"live-probe"}), frozenset({"live"}), "live"),
    (frozenset({"moving-parts"}), frozenset({"isolated", "proved-dead"}), "isolated or proved dead"),
)
_STAYS_AWAY = re.compile(r"\b(look only|touch no|touching nothing|reset nothing|before you|never|do not)\b")


def at_odds(library: Library) -> Iterator[Finding]:
    """Steps whose words say that hands do what their touches do not tell, or that power comes on untold."""
    checks = [check for check in library.checks.values() if library.system_of[check.id] != PROCEDURES]
    steps: list[tuple[str, str, Path_, str, Check | Repair]] = []
    for check in checks:
        steps.append(("check", check.id, ("probes",), check.probes, check))
        steps += [
            ("check", check.id, ("ask", place, "say"), question.say, check) for place, question in enumerate(check.ask)
        ]
    steps += [
        ("suspect", suspect.id, ("repair", "say"), suspect.repair.say, suspect.repair)
        for suspect in library.suspects.values()
    ]
    for kind, item_id, path, words, step in steps:
        yield from _at_odds(kind, item_id, path, words.lower(), step)


def _at_odds(kind: str, item_id: str, path: Path_, words: str, step: Check | Repair) -> Iterator[Finding]:
    touched = {touch.what for touch in step.touches}
    if step.touches and touched & HANDLED and step.energy == "live":
        what = "hands come to electrical parts while the unit is live"
        yield Finding(kind, item_id, what, "let it be proved dead, or probe it", path)
    for asking, states, how in _ASKS:
        if touched & asking and step.energy not in states:
            what = f"it touches {', '.join(sorted(touched & asking))} in the state “{step.energy}”"
            yield Finding(kind, item_id, what, f"ask for it {how}", (*path[:-1], "energy"))
    said = ". ".join(part for part in re.split(r"[.?!]", words) if not _STAYS_AWAY.search(part))
    for pattern, wanted in _WORDS:
        found = re.search(pattern, said)
        if found is None or ("off" in found.group(0) and isinstance(step, Check) and step.with_off):
            continue  # what is off already is not taken off by it
        if wanted and not touched & wanted:
            what = f"it says “{found.group(0)}” and touches {', '.join(sorted(touched)) or 'nothing'}"
            yield Finding(kind, item_id, what, f"add a touch: {', '.join(sorted(wanted))}", path)
        if not wanted and not step.may_energize and step.energy != "live":
            what = f"it says “{found.group(0)}” and does not say that it may energize"
            yield Finding(kind, item_id, what, "set may_energize, or leave the switching to restore-power", path)


#: What a step's words say of the refrigerant circuit, and what of it must stand in its data.
_OF_CIRCUIT: tuple[tuple[str, frozenset[Circuit], Circuit | None], ...] = (
    (r"\bwith the charge recovered\b|^charge recovered\b", frozenset({"charged"}), None),
    (r"\bbraz(e|ing)\b", frozenset({"charged", "recovered", "under-nitrogen", "evacuated"}), None),
    (r"\bweigh in\b|\binto the vacuum\b", frozenset({"opened", "under-nitrogen"}), "charged"),
    (r"\bevacuate\b", frozenset({"charged"}), "evacuated"),
    (r"\braise in steps\b", frozenset({"charged"}), "under-nitrogen"),
)
_STILL_OFF = re.compile(r"\bstill (off|unplugged)\b|\boff and capped\b")


def untrue(library: Library) -> Iterator[Finding]:
    """Steps whose words say of circuit or parts what their data do not hold them to."""
    taken = {thing for check in library.checks.values() for thing in check.takes_off}
    for check in library.checks.values():
        if library.system_of[check.id] != PROCEDURES:
            yield from _circuit_untrue("check", check.id, ("probes",), check.probes, check)
        if _STILL_OFF.search(check.probes.lower()) and not check.with_off:
            what = "it speaks of something as off and does not say what it needs off"
            yield Finding("check", check.id, what, "name it in with_off", ("probes",))
        for thing in check.with_off:
            if thing not in taken:
                what = f"it needs {thing} off, and no check takes that off"
                yield Finding("check", check.id, what, "let a check take it off", ("with_off",))
    for suspect in library.suspects.values():
        path: Path_ = ("repair", "say")
        yield from _circuit_untrue("suspect", suspect.id, path, suspect.repair.say, suspect.repair)


def _circuit_untrue(kind: str, item_id: str, path: Path_, words: str, step: Check | Repair) -> Iterator[Finding]:
    said = ". ".join(part for part in re.split(r"[.?!]\s*", words.lower()) if not _STAYS_AWAY.search(part)).strip()
    for pattern, never, makes in _OF_CIRCUIT:
        found = re.search(pattern, said)
        if found is None or ("comes next" in said or "come next" in said):
            continue
        if not step.circuit.needs or set(step.circuit.needs) & (never - {"charged"} if makes == "charged" else never):
            what = f"it says “{found.group(0)}” and its circuit may be {', '.join(step.circuit.needs) or 'anything'}"
            yield Finding(kind, item_id, what, "say in circuit.needs what it must be", (*path[:-1], "circuit"))
        elif makes is not None and step.circuit.makes != makes:
            what = f"it says “{found.group(0)}” and makes the circuit {step.circuit.makes or 'nothing'}"
            yield Finding(kind, item_id, what, f"set circuit.makes to {makes}", (*path[:-1], "circuit"))


def unproved(library: Library) -> Iterator[Finding]:
    """Checks that would show a place dead by anything but a measurement that the code holds to its ceilings."""
    for check in library.checks.values():
        procedure = library.system_of[check.id] == PROCEDURES
        if not procedure and (check.proves or check.absent or check.sets_energy):
            what = "it changes what is shown of the power and is no safety procedure"
            yield Finding(
                "check", check.id, what, "leave proves, absent and sets_energy to the procedures", ("proves",)
            )
        elif check.proves and check.judge.by != _PROVES:
            what = f"it proves a place dead by the judge “{check.judge.by}”"
            yield Finding("check", check.id, what, f"let “{_PROVES}” judge it", ("judge", "by"))
        elif check.proves and not check.absent:
            yield Finding(
                "check", check.id, "it proves a place dead and shows nothing absent", "name absent", ("proves",)
            )


def untold(library: Library) -> Iterator[Finding]:
    """Steps that do not say what hands touch."""
    for check in library.checks.values():
        if not check.touches and library.system_of[check.id] != PROCEDURES:
            yield Finding("check", check.id, "it does not say what hands touch", "add touches")
    for suspect in library.suspects.values():
        if not suspect.repair.touches:
            yield Finding("suspect", suspect.id, "its repair does not say what hands touch", "add touches", ("repair",))
