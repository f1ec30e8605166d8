"""Every judge by name, with what it needs and may answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from assistant.language.meaning import Quantity
from assistant.library.models import Check
from assistant.reasoning.errors import ReasoningError
from assistant.reasoning.judgement import Judgement
from assistant.reasoning.judges.case import Case

Input = Literal["reading", "readings", "choice"]
#: "same": the quantity of the check's first reading.
LimitQuantity = Quantity | Literal["same"]


@dataclass(frozen=True)
class Spec:
    """A judge: its function and what a check must give it.

    ``inputs``/``may``: needed and optional parameters with their kind. ``limits``: every limit it knows, with its
    quantity; ``one_of``: groups of limits of which at least one must be there. ``outcomes``: what it can answer;
    ``folds``: the outcome that stands for one that a check does not list.
    """

    name: str
    decide: Callable[[Case], Judgement]
    inputs: Mapping[str, Input]
    outcomes: tuple[str, ...]
    may: Mapping[str, Input] = field(default_factory=dict)
    limits: Mapping[str, LimitQuantity] = field(default_factory=dict)
    one_of: tuple[tuple[str, ...], ...] = ()
    options: tuple[str, ...] = ()
    folds: Mapping[str, str] = field(default_factory=dict)
    #: for a judge whose outcomes depend on the check
    outcomes_of: Callable[[Check], set[str]] | None = None
    #: its verdict hangs on the altitude, for which it is worth asking: a gauge pressure tells a saturation
    absolute: bool = False

    def possible(self, check: Check) -> set[str]:
        """Every outcome that this judge can answer for ``check``."""
        return self.outcomes_of(check) if self.outcomes_of else set(self.outcomes)


_JUDGES: dict[str, Spec] = {}


def register(
    name: str,
    *,
    inputs: Mapping[str, Input],
    outcomes: tuple[str, ...] = (),
    may: Mapping[str, Input] | None = None,
    limits: Mapping[str, LimitQuantity] | None = None,
    one_of: tuple[tuple[str, ...], ...] = (),
    options: tuple[str, ...] = (),
    folds: Mapping[str, str] | None = None,
    outcomes_of: Callable[[Check], set[str]] | None = None,
    absolute: bool = False,
) -> Callable[[Callable[[Case], Judgement]], Callable[[Case], Judgement]]:
    """Put a judging function into the registry under ``name``."""

    def keep(decide: Callable[[Case], Judgement]) -> Callable[[Case], Judgement]:
        _JUDGES[name] = Spec(
            name, decide, inputs, outcomes, may or {}, limits or {}, one_of, options, folds or {}, outcomes_of, absolute
        )
        return decide

    return keep


def names() -> tuple[str, ...]:
    """Every judge's name."""
    return tuple(sorted(_JUDGES))


def spec(name: str) -> Spec:
    """The judge called ``name``; raises ReasoningError when there is none."""
    if name not in _JUDGES:
        raise ReasoningError(f"There is no judge called {name}; there are {', '.join(names())}.")
    return _JUDGES[name]


def find(name: str) -> Spec | None:
    """The judge called ``name``, or None."""
    return _JUDGES.get(name)
