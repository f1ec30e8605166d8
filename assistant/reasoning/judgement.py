"""What comes of one check's answers: an outcome with its computed reason."""

from __future__ import annotations

from assistant.library.models import Verdict
from assistant.messages.message import Why
from assistant.model import Model


class Working(Model):
    """A sum as an engineer would write it. ``source`` is readable text naming where formula and limits come from."""

    formula: str
    numbers: str
    result: str
    source: str


class Bound(Model):
    """A limit that a verdict went by: ``name`` as the judge calls it, ``value`` in ``unit`` (canonical).

    ``general``: not this unit's own figure.
    """

    name: str
    value: float
    quantity: str
    unit: str
    source: str
    general: bool = False


class Margin(Model):
    """How far the judged number lies inside its nearest limit (negative: outside), with its 95 % uncertainty."""

    value: float
    expanded: float
    quantity: str
    unit: str


class Judgement(Model):
    """The outcome of a check.

    ``chances``: chance of each of the check's outcomes given the answers and the instrument's uncertainty
    (sums to 1); ``outcome`` the most likely one; ``verdict`` "undecided" when the uncertainty spans a limit.
    ``says`` is told: result with its reason and values, under 25 words. ``better`` names the reading that would settle
    an undecided one, else empty. In visits older than the catalogue of messages both are the words that were spoken.
    ``bounds`` and ``margin`` are for the record; visits of before have none.
    """

    outcome: str
    chances: tuple[tuple[str, float], ...]
    verdict: Verdict
    says: Why
    working: tuple[Working, ...] = ()
    better: Why = ""
    bounds: tuple[Bound, ...] = ()
    margin: Margin | None = None
