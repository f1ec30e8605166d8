"""How long a record of some 300 facts takes: ``python -m tests.benchmarks.record``.

Prints seconds on the clock and of the processor, first with the libraries that each form loads, then again; asserts
nothing. On a machine that others use too, the processor's seconds tell more.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from assistant.library.loader import load
from assistant.record.build import build
from assistant.record.forms import as_html, as_json, as_pdf
from tests.record.material import Told, job_visit


def long_visit() -> Told:
    """The visit that has something of everything, and more looks in it."""
    library = load()
    told = job_visit(library)
    closing = told.facts.pop()
    for number in range(20):
        told.check("supply-volts", "asked", voltage=225.0 + number / 2)
        told.say("Look at the filter.", "instruction").say("Is it clean?", "question")
    told.facts.append((told.at, closing[1]))
    return told


def timed(what: str, work: Callable[[], object]) -> None:
    began, used = time.perf_counter(), time.process_time()
    work()
    print(f"{what:<24} {time.perf_counter() - began:6.2f} s {time.process_time() - used:6.2f} s of the processor")


if __name__ == "__main__":
    told = long_visit()
    library, facts = told.library, told.stamped()
    print(f"{len(facts)} facts")
    timed("folded", lambda: build(told.row(), facts, library))
    record = build(told.row(), facts, library)
    for name, form in (("JSON", as_json), ("HTML", as_html), ("PDF", as_pdf)):
        timed(f"{name}, loading", lambda form=form: form(record))  # type: ignore[misc]
        timed(f"{name} again", lambda form=form: form(record))  # type: ignore[misc]
