"""Makes what a screen shows out of the state of a visit."""

from __future__ import annotations

from typing import get_args

from assistant.dialogue.commands import commands
from assistant.dialogue.energy import place_key
from assistant.dialogue.hazards import bars
from assistant.dialogue.questions import present_question
from assistant.dialogue.step import expected
from assistant.dialogue.turn import Context, Turn
from assistant.dialogue.wording import named_by, spell
from assistant.language.meaning import Expectation, ReadingExpectation
from assistant.language.units import UNITS, from_canonical
from assistant.library.kinds import At
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, Ref, Value, known, message
from assistant.visit.screen.shown import (
    HazardShown,
    Named,
    PlaceShown,
    ReadingAsked,
    SaidNow,
    Screen,
    SuspectShown,
    VerdictShown,
)

#: So many suspects are shown, the likeliest first.
MOST_SUSPECTS = 8
#: Requests that take words of their own, which no bare button can give.
_WITH_WORDS = frozenset({"check", "calculate", "correction"})


def screen(context: Context, turn: Turn) -> Screen:
    """What a screen shows after ``turn``."""
    return _Maker(context, turn).screen()


class _Maker:
    def __init__(self, context: Context, turn: Turn) -> None:
        self.turn = Turn(context, turn.state, turn.now_s)
        self.replies = turn.replies
        self.state = turn.state
        self.library = context.library
        self.expected = expected(context, turn.state)

    def screen(self) -> Screen:
        state = self.state
        return Screen(
            at_s=round(self.turn.now_s, 3),
            stage=state.stage.value,
            question=self.expected.question,
            asked=self._asked(),
            choices=self._choices(self.expected),
            reading=self._reading(self.expected, self.expected.reading),
            text=self.expected.text,
            acknowledge=tuple(
                Named(key=item.precaution, label=self._words(known("precautions", item.precaution, "say")))
                for item in state.acknowledging
            ),
            confirming=self._confirming(),
            held=state.held,
            wait_until_s=state.wait_until_s,
            check=self._check(state.run.check) if state.run else None,
            commands=tuple(
                Named(key=name, label=self._words(message(f"command-{name}")))
                for name in commands(self.library)
                if name not in _WITH_WORDS
            ),
            locked=state.power.locked,
            places=tuple(self._places()),
            circuit=tuple(Named(key=one, label=self._words(message("circuit", holds=one))) for one in state.circuit),
            hazards=tuple(
                HazardShown(
                    key=item.hazard,
                    label=self._words(known("hazards", item.hazard, "name")),
                    bars=tuple(sorted(bars(item, self.library))),
                )
                for item in state.hazards
            ),
            suspects=tuple(self._suspects()),
            verdict=self._verdict(),
            says=tuple(SaidNow(about=each.about, text=each.text, message=each.message) for each in self.replies),
        )

    def _words(self, value: Value) -> str:
        return catalogue().phrase(value, self.library)

    def _asked(self) -> str:
        question = present_question(self.turn)
        if question is None:
            return ""
        return catalogue().in_words(
            message("knowledge", text=question) if isinstance(question, Ref) else question, self.library
        )

    def _confirming(self) -> str:
        waiting = self.state.unconfirmed
        if waiting is None or waiting.meaning is None:
            return ""
        return self._words(spell(self.turn, waiting.meaning, self.expected))

    def _choices(self, asked: Expectation) -> tuple[Named, ...]:
        names = named_by(self.turn, asked)
        offered = (choice.id for choice in asked.choices if choice.offered)
        return tuple(Named(key=choice, label=self._words(names.choice(choice))) for choice in offered)

    def _reading(self, asked: Expectation, wanted: ReadingExpectation | None) -> ReadingAsked | None:
        if wanted is None:
            return None
        names = named_by(self.turn, asked)
        low, high = (from_canonical(end, wanted.unit, wanted.quantity) for end in wanted.plausible)
        return ReadingAsked(
            quantity=wanted.quantity,
            unit=wanted.unit,
            units=tuple(Named(key=unit.symbol, label=unit.sign) for unit in UNITS[wanted.quantity]),
            plausible=(min(low, high), max(low, high)),
            places=tuple(Named(key=place.id, label=self._words(names.place(place.id))) for place in wanted.places),
            open_line=wanted.open_line,
        )

    def _check(self, check_id: str) -> Named:
        return Named(key=check_id, label=self._words(known("checks", check_id, "title")))

    def _places(self) -> list[PlaceShown]:
        keys = {at: place_key(at, self.state.zone) for at in get_args(At)}
        return [
            PlaceShown(key=at, label=self._words(message("place-name", place=at)), power=self.state.power.at(key))
            for at, key in keys.items()
        ]

    def _suspects(self) -> list[SuspectShown]:
        if not self.state.symptoms:
            return []
        ranked = self.turn.reasoner.ranked(self.turn.belief())
        known_ones = [(key, chance) for key, chance in ranked if key in self.library.suspects]
        return [
            SuspectShown(key=key, label=self._words(known("suspects", key, "name")), chance=round(chance, 4))
            for key, chance in known_ones[:MOST_SUSPECTS]
        ]

    def _verdict(self) -> VerdictShown | None:
        if not self.state.results:
            return None
        newest = self.state.results[-1]
        judged = newest.judgement
        return VerdictShown(
            check=self._check(newest.check),
            verdict=judged.verdict,
            outcome=judged.outcome,
            says=catalogue().in_words(judged.says, self.library),
            message=judged.says if isinstance(judged.says, Message) else None,
            better=catalogue().in_words(judged.better, self.library),
            bounds=judged.bounds,
            margin=judged.margin,
            chances=judged.chances,
        )
