"""A check must not ask for what its energy state or its cautions do not allow."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.library.demand import cautions_of
from assistant.library.finding import Finding
from assistant.library.loader import Library
from assistant.library.models import Check

#: Readings taken on live metal, and the caution that must come before them.
_LIVE_QUANTITIES = frozenset({"voltage_ac", "voltage_dc"})
_LIVE_CAUTION = "live-work"
#: What counts for it where a voltage is looked for that should be gone.
_AS_LIVE = "as-live"
#: Readings that harm meter and person on a live or charged circuit, and the instruments that inject a voltage.
_DEAD_QUANTITIES = frozenset({"resistance", "capacitance"})
_DEAD_INSTRUMENTS = frozenset({"diode-test", "insulation-tester"})
_INJECTS = {"insulation-tester": "insulation-test-volts"}


def unsafe(library: Library) -> Iterator[Finding]:
    """Live readings without their caution; readings on dead parts asked while something may be live."""
    for check in library.checks.values():
        for place, question in enumerate(check.ask):
            if question.reading is not None:
                reading = question.reading
                yield from _reading(check, reading.quantity, reading.instrument, place)
    for suspect in library.suspects.values():
        if suspect.condemn and suspect.repair.energy == "live":
            what = "its repair changes a part while the unit is live"
            yield Finding("suspect", suspect.id, what, "change parts isolated or proved dead", ("repair", "energy"))


def _reading(check: Check, quantity: str, instrument: str, place: int) -> Iterator[Finding]:
    path = ("ask", place, "reading")
    dead = quantity in _DEAD_QUANTITIES or instrument in _DEAD_INSTRUMENTS
    if dead and check.energy not in ("isolated", "proved-dead"):
        what = f"it measures {quantity.replace('_', ' ')} in the state “{check.energy}”"
        yield Finding("check", check.id, what, "ask for it isolated or proved dead", path)
    if quantity in _LIVE_QUANTITIES and not dead and not {_LIVE_CAUTION, _AS_LIVE} & {*cautions_of(check)}:
        what = f"it measures a voltage without the caution “{_LIVE_CAUTION}”"
        yield Finding("check", check.id, what, "add the caution", path)
    needed = _INJECTS.get(instrument)
    if needed and needed not in check.precautions:
        what = f"its tester injects a voltage and the caution “{needed}” is missing"
        yield Finding("check", check.id, what, "add the caution", path)
