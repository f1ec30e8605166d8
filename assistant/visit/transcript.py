"""The live transcript: what was heard and how sure, what was said, which verdict with which numbers."""

from __future__ import annotations

import json
import shutil
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from assistant.dialogue import facts as f
from assistant.printable import printable

if TYPE_CHECKING:
    from assistant.dialogue.turn import Turn
    from assistant.visit.session import Session

_SURE = {"sure": "sure", "confirm": "to be confirmed", "again": "not understood"}

#: Where words begin under a line's time and speaker, signs.
_HANG = 14
_NARROWEST = 40


class Transcript:
    """Prints each turn as it happens: lines for a person, or one JSON object a turn for a program."""

    def __init__(self, out: TextIO, as_json: bool = False) -> None:
        self.out = out
        self.as_json = as_json

    def remark(self, text: str) -> None:
        """Progress of long work; nothing in JSON."""
        if not self.as_json:
            self._line(f"  ·  {text}", 5)
            self.out.flush()

    def trouble(self, what: str, cautions: Sequence[str]) -> None:
        """What failed and what is live; in JSON too, where a program must know that the turn did not count."""
        if self.as_json:
            print(json.dumps({"trouble": what, "says": list(cautions)}, ensure_ascii=False), file=self.out, flush=True)
            return
        for text in (what, *cautions):
            self._line(f"  !  {text}", 5)
        self.out.flush()

    def turn(self, session: Session, turn: Turn) -> None:
        """One turn: words heard, then replies, with the working of each verdict under it."""
        if self.as_json:
            print(json.dumps(_object(session, turn), ensure_ascii=False), file=self.out, flush=True)
            return
        clock = _clock(turn.now_s)
        for fact in turn.facts:
            if isinstance(fact, f.WordsHeard):
                print(file=self.out)
                self._line(f"{clock}  you   “{fact.heard.words}”  ({_how_sure(fact)})")
            elif isinstance(fact, f.CheckJudged):
                self._judged(fact)
            elif isinstance(fact, f.Said):
                self._line(f"{clock}  says  {fact.text}")
        self.out.flush()

    def _judged(self, fact: f.CheckJudged) -> None:
        self._line(f"       →     {fact.judgement.verdict.upper()}  {fact.check}: {fact.judgement.outcome}")
        for work in fact.judgement.working:
            self._line(f"             {work.formula}: {work.numbers} → {work.result}  [{work.source}]")

    def _line(self, text: str, hang: int = _HANG) -> None:
        """Broken between words where a terminal is narrower; what goes into a file or a pipe stays one line."""
        text = printable(text)
        if self.out.isatty():
            width = max(_NARROWEST, shutil.get_terminal_size().columns - 1)
            text = textwrap.fill(
                text, width, subsequent_indent=" " * hang, break_long_words=False, break_on_hyphens=False
            )
        print(text, file=self.out)

    def ended(self, session: Session, paths: Sequence[Path]) -> None:
        """Where the record is."""
        if self.as_json:
            end = {"visit": session.visit, "closed": session.closed, "record": [str(path) for path in paths]}
            print(json.dumps(end, ensure_ascii=False), file=self.out, flush=True)
            return
        state = "closed" if session.closed else "still open; --resume goes on with it"
        print(f"\nVisit {session.visit} is {state}.", file=self.out)
        for path in paths:
            print(printable(f"Record: {path}"), file=self.out)
        self.out.flush()


def _clock(seconds: float) -> str:
    minutes, rest = divmod(int(seconds), 60)
    return f"{minutes:>3}:{rest:02d}"


def _how_sure(fact: f.WordsHeard) -> str:
    heard = fact.heard
    if all(name == "typed" for name, _ in heard.ears):
        return "typed"
    ears = ", ".join(f"{name} “{words}”" for name, words in heard.ears)
    return f"{_SURE[heard.trust]}, {100 * heard.probability:.0f} %; {ears}"


def _object(session: Session, turn: Turn) -> dict[str, object]:
    from assistant.visit.screen import screen  # a transcript for a person does without it

    heard = next((fact.heard for fact in turn.facts if isinstance(fact, f.WordsHeard)), None)
    return {
        "at_s": round(turn.now_s, 2),
        "heard": heard.model_dump(mode="json") if heard else None,
        "verdicts": [fact.model_dump(mode="json") for fact in turn.facts if isinstance(fact, f.CheckJudged)],
        "says": [reply.text for reply in turn.replies],
        "question": session.expectation.question,
        "energy": turn.state.energy,
        "screen": screen(session.context, turn).model_dump(mode="json"),
    }
