"""All that words may mean at one moment: answers to the open question, and facts that may be told besides."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.language.meaning import Choice, Expectation


@dataclass(frozen=True)
class Called:
    """How what a question is about is called: the ``names`` of its check and parts, and the question as ``asked``."""

    names: tuple[str, ...] = ()
    asked: str = ""


@dataclass(frozen=True, eq=False)
class Tellable:
    """What may be told unasked: the questions of every check by their keys, and what a unit may show.

    Made once for a library; energy procedures are not in it, for no safe state is ever told.
    """

    questions: Mapping[str, Expectation] = field(default_factory=dict)
    indications: tuple[Choice, ...] = ()
    #: Words of the trade, as the knowledge uses them: no stranger beside a reading.
    words: frozenset[str] = frozenset()
    #: What every question is about, those that may not be told of among them, and every symptom, by its key.
    called: Mapping[str, Called] = field(default_factory=dict)
    #: Questions whose answers may follow each other in one breath, and are never told unasked: proofs, and what is
    #: asked besides while a check is made ("does the fan turn?").
    barred: frozenset[str] = frozenset()
    #: Keys of meanings that are one thing in other words, each with the others: a symptom, and what a check finds.
    twins: Mapping[str, frozenset[str]] = field(default_factory=dict)
    #: Symptoms that are one of others, nobody knows which, and those others.
    covers: Mapping[str, frozenset[str]] = field(default_factory=dict)


NOTHING_TO_TELL = Tellable()


@dataclass(frozen=True, eq=False)
class Scope:
    """``expectation`` is the open question. ``following``: keys of the questions of the same check that come after it,
    whose answers are often said in the same breath. ``beneath``: while it is asked whether, or which, something was
    meant, the question that this is about."""

    expectation: Expectation
    tellable: Tellable = NOTHING_TO_TELL
    following: tuple[str, ...] = ()
    beneath: Scope | None = None
    #: What this very unit may show besides the symptoms, as its profile has it; told of at any time.
    shown: tuple[Choice, ...] = ()
    #: The indoor units that may be named instead of the one in question, where there are several.
    zones: tuple[Choice, ...] = ()
    #: While the unit is being named: what it does, which is often said before it is asked.
    complaint: Scope | None = None

    @property
    def key(self) -> str:
        """The open question's key, without the place that is still missing."""
        return ".".join(self.expectation.question.split(".")[:2])

    @property
    def of_energy(self) -> bool:
        """Whether the open question is of a procedure that changes what is shown of power or circuit."""
        return self.key in self.tellable.called and self.key not in self.tellable.questions
