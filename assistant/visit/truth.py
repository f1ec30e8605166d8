"""Compares what was understood, or recorded, with what a recorded visit's technician truly meant."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rapidfuzz import fuzz

from assistant.language.meaning import Command, Correction, Finding, Indication, Meaning, Reading, Readings, Text
from assistant.language.units import UnitError, to_canonical
from assistant.visit.recording import ScriptTurn, TrueReading

#: Free words count as understood from this likeness on (rapidfuzz ratio, 0 to 100): a name may be spelled in two ways.
_LIKE = 80.0

Answer = Reading | Finding | Text


def compare(turn: ScriptTurn, understood: Meaning) -> Literal["all", "part", "no"]:
    """How ``understood`` stands to the truth of ``turn``: all of it, some of several readings, or not it.

    A correction counts by what it corrects to.
    """
    match understood:
        case Correction(meaning=inner):
            return "no" if inner is None else compare(turn, inner)
        case Readings(items=items):
            return _compare_readings(turn.readings, items)
        case Finding(choice=choice) | Indication(choice=choice):
            right = choice in turn.choices
        case Text(words=words):
            right = bool(turn.text) and fuzz.ratio(words.lower(), turn.text.lower()) >= _LIKE
        case Command(name=name, argument=argument):
            right = turn.command in (name, f"{name} {argument}".strip())
        case _:
            right = False
    return "all" if right else "no"


def differences(turns: Sequence[ScriptTurn], recorded: Sequence[tuple[str, Answer]]) -> tuple[str, ...]:
    """Where the answers of a record differ from the truth of ``turns`` (in the order said), a sentence each.

    ``recorded`` pairs each answer that counts at the end with its question key, without place, in the order given. A
    question may be answered more than once, as before and after a repair; an answer given anew replaces the old.
    """
    out: list[str] = []
    met: set[int] = set()
    done: set[tuple[str, str | None]] = set()
    readings = [(turn, truth) for turn in turns for truth in turn.readings if turn.say]
    for key, answer in recorded:
        if not isinstance(answer, Reading):
            fitting = [turn for turn in turns if turn.fits(key) and (turn.choices or turn.text)]
            if not any(compare(turn, answer) == "all" for turn in fitting):
                out.append(f"{key} was recorded as {_words(answer)}, but {_meant(fitting)} was meant.")
        elif (key, answer.place) not in done:
            done.add((key, answer.place))
            same = [a for k, a in recorded if k == key and isinstance(a, Reading) and a.place == answer.place]
            meant = [t for turn, t in readings if _fits_reading(turn, key, answer) and t.place in (None, answer.place)]
            met |= {id(truth) for truth in meant}
            out += _differ(key, same, meant)
    for turn, truth in readings:
        if id(truth) not in met:
            out.append(f"{turn.answers} was meant to be {_true_words(truth)}, which is not in the record.")
    return tuple(out)


def _differ(key: str, answers: Sequence[Reading], meant: Sequence[TrueReading]) -> list[str]:
    """The newest truths against the answers that count, in order: what was said before and taken back drops out."""
    known: list[TrueReading | None] = list(meant[-len(answers) :])
    nothing: list[TrueReading | None] = [None] * (len(answers) - len(known))
    return [
        f"{key} was recorded as {_words(answer)}, but {_true_words(truth) if truth else 'nothing'} was meant."
        for answer, truth in zip(answers, nothing + known, strict=True)
        if truth is None or not same_reading(truth, answer)
    ]


def same_reading(truth: TrueReading, heard: Reading) -> bool:
    """Whether place (where both name one) and value or special agree; values to one part in a million."""
    if truth.place is not None and heard.place is not None and truth.place != heard.place:
        return False
    if truth.special is not None or heard.special is not None:
        return truth.special == heard.special
    try:
        value = to_canonical(truth.value or 0.0, truth.unit, heard.quantity)
    except UnitError:
        return False
    return heard.value is not None and abs(value - heard.value) <= 1e-6 * abs(value)


def _compare_readings(truths: Sequence[TrueReading], items: Sequence[Reading]) -> Literal["all", "part", "no"]:
    left = list(truths)
    for item in items:
        found = next((truth for truth in left if same_reading(truth, item)), None)
        if found is None:
            return "no"
        left.remove(found)
    return "part" if left else "all"


def _fits_reading(turn: ScriptTurn, key: str, answer: Reading) -> bool:
    return turn.fits(key) or (answer.place is not None and turn.fits(f"{key}.{answer.place}"))


def _words(answer: Answer) -> str:
    if isinstance(answer, Reading):
        shown = answer.special or f"{answer.spoken_value:g} {answer.spoken_unit}"
        return f"{shown} at {answer.place}" if answer.place else shown
    return answer.choice if isinstance(answer, Finding) else f"“{answer.words}”"


def _true_words(truth: TrueReading) -> str:
    shown = truth.special or f"{truth.value:g} {truth.unit}"
    return f"{shown} at {truth.place}" if truth.place else shown


def _meant(turns: Sequence[ScriptTurn]) -> str:
    return (turns[-1].text or " or ".join(turns[-1].choices)) if turns else "nothing"
