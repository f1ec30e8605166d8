"""The technician of a recorded visit: hears the assistant's question and gives the clip that answers it.

Bookkeeping only, no sound and no clock: "say it again" gets the next take, "I heard ..., right?" a true yes or no,
and a wrong reading that went through is corrected as soon as the assistant has read it back and gone on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from assistant.language.meaning import Finding, Meaning, Reading, Text
from assistant.visit.recording import TAKES, RecordedVisit
from assistant.visit.truth import compare, differences

#: The question under which the assistant asks "I heard ..., right?".
CONFIRM = "confirm"
#: How the questions begin that are only an acknowledgement.
CAUTION = "precaution."
#: A technician who has to say one thing more often than this gives up.
PATIENCE = 5


@dataclass(frozen=True)
class Clip:
    """What is played next: silence of ``wait_s``, then ``path`` (None: the silence is all)."""

    path: Path | None
    words: str
    wait_s: float = 0.0


class Responder:
    """Chooses the clips of one run through a recorded visit."""

    def __init__(self, visit: RecordedVisit) -> None:
        self.visit = visit
        self._turns = visit.script.turns
        self._unused = list(range(len(self._turns)))
        self._given: list[int] = []  # turns in the order they came up
        self._times: dict[str, int] = {}  # how often each clip was given
        self._part: Literal["say", "correction"] = "say"  # what of the last turn was said last
        self._confirmed: bool | None = None  # the yes or no given since
        self._owed: int | None = None  # a turn to be corrected, once a caution is acknowledged
        self._asked = ""

    def reply(self, question: str, prompt_text: str, understood: Meaning | None) -> Clip | None:
        """The clip for ``question`` (``Expectation.question``).

        ``prompt_text`` is what the assistant said (for ``complaint``). ``understood`` is what it made of the clip
        before, None if it made nothing of it ("say it again"); under ``CONFIRM`` it is the meaning to be confirmed.
        None is returned when the script has no answer (left): see ``complaint``.
        """
        self._asked = f"{question} (“{prompt_text}”)"
        if question == CONFIRM:
            return self._confirm(understood)
        said_last, self._confirmed = self._confirmed, None
        if not self._given or not self._turns[self._given[-1]].say:
            return self._answer(question)
        turn = self._turns[self._given[-1]]
        if said_last is not None:  # the clip before was that yes or no
            wrong = not said_last
        elif understood is None:
            return self._once_more(self._part)
        else:
            wrong = compare(turn, understood) == "no"
        if wrong and turn.fits(question):
            return self._once_more("say")
        if question.startswith(CAUTION):  # nothing is corrected beside a caution
            self._owed = self._given[-1] if wrong and turn.correction else self._owed
            return self._answer(question)
        if wrong and turn.correction:
            return self._once_more("correction")
        if self._owed is not None:
            self._given.append(self._owed)
            self._owed = None
            return self._once_more("correction")
        return self._answer(question)

    @property
    def left(self) -> tuple[str, ...]:
        """Ids of turns that never came up though they should have (neither ``spare`` nor ``always``)."""
        turns, script = self._turns, self.visit.script
        return tuple(script.turn_id(i) for i in self._unused if not (turns[i].spare or turns[i].always))

    @property
    def complaint(self) -> str:
        """Why ``reply`` gave None: one sentence for the person who runs the replay."""
        return f"The script of {self.visit.name} has no answer (left) to the question {self._asked}."

    def differences(self, recorded: Sequence[tuple[str, Reading | Finding | Text]]) -> tuple[str, ...]:
        """Where the record differs from what was truly meant, a sentence each; empty when they agree.

        ``recorded`` holds the answers that count at the end, each with its question key (without place).
        """
        return differences([self._turns[index] for index in self._given], recorded)

    def _confirm(self, understood: Meaning | None) -> Clip | None:
        if not self._given:
            return None
        if self._confirmed is None:
            turn = self._turns[self._given[-1]]
            self._confirmed = understood is not None and compare(turn, understood) != "no"
        # else: the yes or no itself was not understood, and is said once more
        return self._clip("yes" if self._confirmed else "no", 0.0)

    def _answer(self, question: str) -> Clip | None:
        """The first turn of the script that fits and was not used, else the last one used that fits."""
        for index in self._unused:
            turn = self._turns[index]
            if turn.fits(question):
                if turn.always:
                    self._times.pop(self.visit.script.turn_id(index), None)
                else:
                    self._unused.remove(index)
                return self._begin(index, turn.wait_s)
        used = [index for index in reversed(self._given) if self._turns[index].fits(question)]
        if not used:
            return None
        return self._begin(used[0], 0.0 if self._turns[used[0]].say else self._turns[used[0]].wait_s)

    def _begin(self, index: int, wait_s: float) -> Clip | None:
        self._given.append(index)
        self._part = "say"
        return self._clip(self.visit.script.turn_id(index), wait_s)

    def _once_more(self, part: Literal["say", "correction"]) -> Clip | None:
        self._part = part
        stem = self.visit.script.turn_id(self._given[-1])
        return self._clip(stem if part == "say" else f"{stem}-correction", 0.0)

    def _clip(self, stem: str, wait_s: float) -> Clip | None:
        """The next take of a clip; None when patience ends (yes and no may come up often)."""
        times = self._times.get(stem, 0)
        self._times[stem] = times + 1
        if times >= PATIENCE and stem not in ("yes", "no"):
            return None
        if f"{stem}-1.flac" not in self.visit.words:
            return Clip(None, "", wait_s)
        file = f"{stem}-{TAKES[times % len(TAKES)]}.flac"
        return Clip(self.visit.clip(file), self.visit.words[file], wait_s)
