"""Is this one of a few words? Quick decisions: "stop" and "wait" while the assistant talks, and the wake phrase.

The phoneme ear scores each wanted word against what else may be said to the assistant in one breath; it must be the
likeliest of all and fit the sound by itself. Hushing the voice wrongly costs a "repeat", so no more certainty is asked;
what was said is judged by all ears as always. Measured by tests/benchmarks/barge_in.py.
"""

from __future__ import annotations

from collections.abc import Mapping

from assistant.hearing.ears.phoneme import BONUS, PhonemeEar
from assistant.hearing.sound.audio import Audio
from assistant.language import sources

#: What is cried, and the command that it is.
CRIES = {"stop": "stop", "stop stop": "stop", "wait": "wait", "wait wait": "wait"}
#: As _WORST, for the wake phrase: a false call only opens the ears, a missed one is said again.
WAKE_WORST = -16.0
#: What else is said in a word or two; the likeliest of them tells what a cry must beat.
RIVALS = (
    *("yes", "no", "done", "ready", "why", "help", "repeat", "slower", "skip", "skip it", "go back", "resume"),
    *("carry on", "go on", "continue", "what is left", "that's done", "open", "closed", "dark", "minus", "point"),
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("twenty", "thirty", "forty", "fifty", "hundred", "thousand", "volts", "ohms"),
)
#: Natural log that a word may be less likely than the best sequence of any phonemes at all.
_WORST = -12.0


class KeywordSpotter:
    """Callable: sound of a second or two, in which somebody began to talk; what ``wanted`` has for it, or None."""

    def __init__(self, ear: PhonemeEar, wanted: Mapping[str, str] = CRIES, worst: float = _WORST) -> None:
        self._ear, self._wanted, self._worst = ear.packaged(), wanted, worst
        self._strings = (*wanted, *RIVALS)

    def __call__(self, audio: Audio) -> str | None:
        (heard,) = self._ear.listen(audio)
        if not len(heard):
            return None
        free = float(heard[:, :-1].max(axis=1).sum())
        scores = self._ear.score((heard,), self._strings)
        fits = [score - BONUS * len(words.split()) - free for words, score in zip(self._strings, scores, strict=True)]
        best = max(range(len(fits)), key=lambda index: fits[index])
        return self._wanted.get(self._strings[best]) if fits[best] > self._worst else None


def wake_phrases() -> dict[str, str]:
    """What calls the assistant, from ``grammars/calls.jsgf``, as a KeywordSpotter wants it."""
    shipped = sources.shipped()
    found = shipped.find("calls.call", "")
    assert found is not None, "the grammars are validated before anybody listens"
    return dict.fromkeys(sources.strings(found[0].expansion, shipped.lookup({}), found[1]), "call")
