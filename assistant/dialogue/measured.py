"""The readings of a visit that make its unit's trend, and what was computed of them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.dialogue.entries import said_reading
from assistant.dialogue.state import Result, VisitState
from assistant.job.memory import COMPUTED, Measured
from assistant.language.meaning import Reading
from assistant.library.loader import Library
from assistant.library.models import PROCEDURES
from assistant.messages.catalogue import number
from assistant.quantities.table import sign

#: So many of a visit's checks are kept for the trend.
_KEPT = 40
#: The number of a result, within its words: "difference 6.7 K (12 °F) ± 0.35 K".
_RESULT = re.compile(r"\D*?(?P<said>(?P<value>-?\d+(?:\.\d+)?)[^±;]*)")


def measured(state: VisitState, library: Library) -> Iterator[Measured]:
    """The readings of judged checks that tell of the machine, the newest checks."""
    told = [result for result in state.results if result.role != "changeover" and result.check in library.checks]
    for result in told[-_KEPT:]:
        check = library.checks[result.check]
        if library.system_of[check.id] == PROCEDURES:
            continue
        yield from _computed(result, check.title)
        for given in result.answers:
            if given.replaced or not isinstance(given.answer, Reading) or given.answer.value is None:
                continue
            yield Measured(
                key=f"{check.id}.{given.question}",
                title=check.title,
                place=given.place or "",
                zone=result.zone,
                value=given.answer.value,
                said=said_reading(given.answer),
            )


def _computed(result: Result, title: str) -> Iterator[Measured]:
    """What was computed of several readings (a superheat, a split), as the working writes it."""
    read = [given for given in result.answers if isinstance(given.answer, Reading) and not given.replaced]
    if len(read) < 2 or not result.judgement.working or result.judgement.margin is None:
        return
    found = _RESULT.match(result.judgement.working[-1].result)
    limits = {one.name: f"{number(one.value)} {sign(one.unit)}" for one in result.judgement.bounds}
    if found is not None:
        yield Measured(
            key=f"{result.check}.{COMPUTED}",
            title=title,
            zone=result.zone,
            value=float(found["value"]),
            said=found["said"].strip(),
            low=limits.get("low", ""),
            high=limits.get("high", ""),
        )
