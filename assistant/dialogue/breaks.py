"""After a hold or a visit that was cut short: what was so need not be so any more."""

from __future__ import annotations

from assistant.dialogue import facts as f
from assistant.dialogue.cautions import say_again
from assistant.dialogue.closing import left_as
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import VisitState
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Command
from assistant.library.models import PROCEDURES
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, known, message

#: Away for longer than this, in s, a lock, a measurement and a caution are all repeated. Common practice, no source
#: (29 CFR 1910.147(d)(5)(ii) asks to go on verifying while energy may build up again).
LONG_S = 900.0
#: Away for no longer than this, in s, nobody has forgotten where they are. Common practice, no source.
MOMENT_S = 60.0


def caution_of(state: VisitState) -> str:
    """The caution of the present state in words, where no turn can be made of it: the visit stands still."""
    return catalogue().words(message("break-short" if state.power.locked else "count-as-live"), None)


def where_it_stood(turn: Turn, away_s: float | None) -> None:
    """Which visit this is and what was found last, for who comes back to it; who was away a moment knows."""
    if away_s is not None and away_s <= MOMENT_S:
        return
    state = turn.state
    for each in left_as(state, turn.library):  # that a place was dead is nothing to be told now: it is shown anew
        turn.tell(message("left-locked") if each.id == "left-proved-dead" else each, "caution")
    site, profile = state.note("site"), turn.profile
    if site and profile is not None and not profile.general:
        turn.tell("goes-on-at", site=site, unit=f"{profile.make} {profile.model}")
    elif site and state.job.plate.make:
        turn.tell("goes-on-at", site=site, unit=state.job.plate.called)
    elif site:
        turn.tell("goes-on-at-site", site=site)
    told = (each for each in reversed(state.results) if turn.library.system_of.get(each.check) != PROCEDURES)
    found = next((each.judgement.says for each in told), "")
    if found:
        turn.tell("goes-on-found", result=found)
    if not state.power.locked:
        turn.tell("count-as-live", "caution")


def after_a_break(turn: Turn, away_s: float | None) -> bool:
    """Nothing gets safer by it: after a long or unknown time everything that was shown is shown anew.

    True when the visit must be led on from the lock, or from the cautions of a live step; false when only the present
    question is said again.
    """
    state = turn.state
    short = away_s is not None and away_s <= LONG_S
    if short or not (state.power.locked or state.cautions):
        if state.power.locked:
            turn.tell("break-short", "caution")
        return False
    turn.tell("break-long" if state.power.locked else "break-long-live", "caution")
    return begin_anew(turn, message("because-unwatched"))


def begin_anew(turn: Turn, because: Message) -> bool:
    """Lock, measurement and cautions count no more, whatever they were; the step under way is led to from them again.

    True when the visit can be led on at once, false when something else waits for its answer.
    """
    state = turn.state
    left = state.power.locked or state.power.left
    turn.emit(f.EnergyChanged(to="live", because=because, lock_left=left))
    if state.run is not None:
        if state.run.role == "asked":
            turn.emit(f.CheckAskedFor(check=state.run.check))
        turn.emit(f.RunDropped(check=state.run.check))
    return turn.state.unconfirmed is None and not state.held and not state.finishing


def is_locking(turn: Turn) -> bool:
    """Whether the order to lock was given and it is not reported yet."""
    run = turn.state.run
    return run is not None and turn.check(run.check).does == "lock-out"


def _name_what_bars(turn: Turn) -> None:
    """Whoever speaks of switching on hears which hazards forbid it."""
    for latched in turn.state.hazards:
        if latched.hazard in turn.library.hazards and "power" in turn.library.hazards[latched.hazard].bars:
            turn.tell("still-barred", "caution", hazard=known("hazards", latched.hazard, "name"))


def power_back(turn: Turn, command: Command) -> bool:
    """ "The power is back", whoever did it: hands off, and what was shown counts no more. Beside a live unit it is
    nothing new; who was about to lock it hears the whole order again. What bars it is named."""
    if not turn.state.power.locked:
        turn.tell("count-as-live", "caution")
        _name_what_bars(turn)
        if is_locking(turn):
            say_again(turn)
        ask_again(turn)
        return False
    turn.tell("hands-off", "caution")
    _name_what_bars(turn)
    return begin_anew(turn, message("because-power-back"))
