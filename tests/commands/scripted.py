"""Leads a recorded visit by what its turns truly mean, without sound: whether script and knowledge still fit."""

from collections.abc import Callable
from pathlib import Path

from assistant.dialogue.state import VisitState
from assistant.dialogue.step import Elapsed, Event, Opened, Words, expected, step
from assistant.dialogue.turn import Turn
from assistant.language.interpret import interpret
from assistant.language.meaning import Heard, Trust
from assistant.visit.recording import RecordedVisit, load_script
from assistant.visit.responder import Responder


def lead(
    folder: Path, context, see: Callable[[Event, Turn], object] = lambda event, turn: None
) -> tuple[VisitState, str]:
    """The state at the end and the responder's complaint, empty when every question had its answer.

    ``see`` is shown each event and what came of it.
    """
    responder = Responder(RecordedVisit(folder, load_script(folder)))

    def take(state: VisitState, event: Event) -> Turn:
        turn = step(context, state, event)
        see(event, turn)
        return turn

    turn = take(VisitState(), Opened("test"))
    now_s, understood = 0.0, None
    while not turn.state.closing:
        if turn.state.wait_until_s is not None:
            now_s = turn.state.wait_until_s + 1
            turn = take(turn.state, Elapsed(now_s))
            continue
        expectation = expected(context, turn.state)
        if expectation.question == "confirm":
            understood = turn.state.unconfirmed.meaning
        clip = responder.reply(expectation.question, " ".join(reply.text for reply in turn.replies), understood)
        if clip is None:
            return turn.state, responder.complaint
        now_s += 5 + clip.wait_s
        meaning = interpret(clip.words, expectation)
        understood = meaning.meaning
        trust: Trust = "again" if understood is None else "confirm" if meaning.doubt else "sure"
        heard = Heard(words=clip.words, meaning=understood, trust=trust, ears=(("a", clip.words), ("b", clip.words)))
        turn = take(turn.state, Words(heard, now_s))
    return turn.state, ""
