"""An emergency is called out: what to do first, at once, before all else and in any state; then its hazards latch.

What was heard without doubt holds the visit until "carry on". What was not is asked back, but what to do first is
said and its bars hold from the first moment: a false alarm costs a minute.
"""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue import hazards
from assistant.dialogue.job_asking import is_at_the_unit
from assistant.dialogue.state import Stage
from assistant.dialogue.turn import Reply, Turn
from assistant.language.meaning import Emergency, EmergencyKind, Heard
from assistant.library.loader import Library
from assistant.messages.message import known, message


def is_emergency(heard: Heard) -> bool:
    """Whether an emergency was called out, however well it was heard."""
    return isinstance(heard.meaning, Emergency) and heard.trust != "again"


def first_words(heard: Heard, library: Library) -> tuple[Reply, ...]:
    """What to do first, where the visit itself stands still and can keep nothing."""
    assert isinstance(heard.meaning, Emergency)
    return (Reply(library.raised_by(heard.meaning.what).first, "caution"),)


def call(turn: Turn, kind: EmergencyKind, sure: bool) -> bool:
    """Say what to do first, latch the hazards, and hold the visit. Never leads on by itself."""
    hazard = turn.library.raised_by(kind)
    turn.tell(known("hazards", hazard.id, "first"), "caution")
    if turn.state.stage is Stage.CLOSED:
        return False
    turn.emit(f.EmergencyCalled(emergency=kind, sure=sure))
    if hazard.unshows:
        turn.emit(f.EnergyChanged(to="live", because=message("knowledge", text=known("hazards", hazard.id, "name"))))
    hazards.raise_hazard(turn, hazard.id, kind)
    if sure:
        _real(turn, hazard.symptom)
    else:
        ask_back(turn)
    return False


def ask_back(turn: Turn) -> None:
    """Ask whether the emergency was meant."""
    kind: EmergencyKind = turn.state.emergency  # type: ignore[assignment]
    turn.tell("emergency-heard-right", "question", hazard=known("hazards", turn.library.raised_by(kind).id, "name"))


def settle(turn: Turn, real: bool) -> bool:
    """The answer to that question. True when the visit may be led on."""
    kind: EmergencyKind = turn.state.emergency  # type: ignore[assignment]
    hazard = turn.library.raised_by(kind)
    turn.emit(f.EmergencySettled(real=real))
    if real:
        _real(turn, hazard.symptom)
        return False
    for latched in turn.state.hazards:
        if latched.by == kind:
            turn.emit(f.HazardCleared(hazard=latched.hazard, by="misheard"))
    turn.tell("emergency-misheard", "result")
    return True


def _real(turn: Turn, symptom: str | None) -> None:
    if symptom is not None and symptom in turn.library.symptoms:
        turn.emit(f.IndicationNoted(symptom=symptom))
        if turn.state.stage is Stage.INDICATION:
            turn.emit(f.StageEntered(stage=Stage.CHECK))
    if is_at_the_unit(turn.state.job.aside):  # what was asked of plate or display is not asked of who must leave
        turn.emit(f.AsideSettled(topic=turn.state.job.aside))
    turn.emit(f.Held(by="emergency", at_s=turn.now_s))
    turn.tell("emergency-held", "question")


def from_symptom(turn: Turn, symptom_id: str) -> None:
    """A symptom that is a hazard ("it smells burnt") raises it at once, with what to do first."""
    symptom = turn.library.symptoms.get(symptom_id)
    if symptom is None or not symptom.hazard:
        return
    hazard = turn.library.hazards[symptom.hazard]
    if hazard.first:
        turn.tell(known("hazards", hazard.id, "first"), "caution")
    hazards.raise_hazard(turn, hazard.id, symptom_id)
