"""The ledger: noted at any moment, read back, corrected, listed; the refrigerant's balance and what the law asks."""

from __future__ import annotations

from datetime import date

from assistant.dialogue import facts as f
from assistant.dialogue.entries import entry_message, said_reading
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import VisitState
from assistant.dialogue.turn import Turn
from assistant.job.duties import Duty, Place, duties
from assistant.job.ledger import Entry, Line, clock_runs, counting, travelled_min, worked_s
from assistant.job.refrigerant import Balance, balance, co2_tonnes
from assistant.language.meaning import Command, Heard, LedgerSaid, Meaning, Readings, Text
from assistant.library.kinds import Circuit
from assistant.library.loader import Library
from assistant.library.profile import UnitProfile
from assistant.messages.message import Message, message

#: So many entries are read in one breath.
_A_BREATH = 3


def note(turn: Turn, said: LedgerSaid, heard: Heard, how: str) -> None:
    """Put it into the ledger and read it back."""
    entry = said.entry
    replaced = _last(turn, entry.what) if said.corrects else _just_weighed(turn, entry)
    if replaced is not None and not said.corrects:
        entry = entry.model_copy(update={"source": replaced.entry.source})
    _enter(turn, entry, heard.words, how, replaced.number if replaced is not None else None)
    corrected = said.corrects and replaced is not None
    turn.tell("ledger-corrected" if corrected else "ledger-noted", "result", entry=entry_message(said.entry))


def _just_weighed(turn: Turn, entry: Entry) -> Line | None:
    """The mass that a step had asked for and that is told again with its cylinder: it went in, or out, only once."""
    last = _last(turn, entry.what)
    if last is None or not entry.cylinder or not last.entry.source or last.entry.cylinder:
        return None
    return last if last.entry.kg == entry.kg else None


def _enter(turn: Turn, entry: Entry, words: str, how: str, replaces: int | None) -> None:
    turn.emit(
        f.LedgerNoted(
            number=len(turn.state.job.ledger) + 1, entry=entry, by=turn.state.technician, words=words,
            how=how, at_s=turn.now_s, replaces=replaces,  # type: ignore[arg-type]
        )
    )  # fmt: skip


def _last(turn: Turn, what: str) -> Line | None:
    """The newest line of this kind that counts."""
    return next((line for line in reversed(counting(turn.state.job.ledger)) if line.entry.what == what), None)


def weighed(turn: Turn, question: str, readings: Readings, words: str, how: str) -> None:
    """A mass that was asked for goes into the ledger too; given again, it replaces the one before."""
    what = _weighs(turn, question)
    value = readings.items[0].value
    if what is None or value is None or value <= 0:
        return
    before = next((line for line in reversed(counting(turn.state.job.ledger)) if line.entry.source == question), None)
    entry = Entry(what=what, kg=value, spoken=said_reading(readings.items[0]), source=question)  # type: ignore[arg-type]
    last = next(iter(reversed(counting(turn.state.job.ledger))), None)
    if before is None and last is not None and last.entry.what == what and last.entry.kg == value:
        return  # "charged two kilos" was said in answer to it
    _enter(turn, entry, words, how, before.number if before else None)


def _weighs(turn: Turn, question: str) -> Circuit | None:
    """What refrigerant that is weighed was: the mass asked for in a step that charges the circuit or empties it."""
    name, _, key = question.partition(".")
    check = turn.library.checks.get(name)
    if check is None or check.circuit.makes not in ("charged", "recovered"):
        return None
    masses = {asked.key for asked in check.ask if asked.reading is not None and asked.reading.quantity == "mass"}
    return check.circuit.makes if key in masses else None


def what_noted(turn: Turn, command: Command) -> bool:
    """ "What have I noted?": every entry that counts, some in a breath, and the times."""
    lines = counting(turn.state.job.ledger)
    if not lines:
        turn.tell("ledger-empty", "remark")
    for first in range(0, len(lines), _A_BREATH):
        for line in lines[first : first + _A_BREATH]:
            turn.tell("ledger-line", "remark", entry=entry_message(line.entry))
    _times(turn, lines)
    ask_again(turn)
    return False


def _times(turn: Turn, lines: tuple[Line, ...]) -> None:
    worked, travelled = worked_s(lines, turn.now_s), travelled_min(lines)
    if any(line.entry.what == "clock-on" for line in lines):
        runs = message("clock-runs") if clock_runs(lines) else message("clock-stands")
        turn.tell("time-worked", "remark", minutes=round(worked / 60), clock=runs)
    if travelled:
        turn.tell("time-travelled", "remark", minutes=round(travelled))


def strike(turn: Turn, command: Command) -> bool:
    """Take the last entry out; it stays in the journal."""
    lines = counting(turn.state.job.ledger)
    if not lines:
        turn.tell("ledger-empty", "remark")
    else:
        turn.emit(f.LedgerStruck(number=lines[-1].number))
        turn.tell("ledger-struck", "result", entry=entry_message(lines[-1].entry))
    ask_again(turn)
    return False


# ---- corrections ------------------------------------------------------------------------------------------------


def ask_correction(turn: Turn) -> bool:
    """ "Correction" right after an entry: what should it be? False when there is nothing fresh."""
    lines = counting(turn.state.job.ledger)
    if not (turn.state.job.fresh and lines):
        return False
    last = lines[-1].entry
    turn.emit(f.AsideAsked(topic="ledger" if last.kg is not None else "ledger-words"))
    return True


def corrected(turn: Turn, meaning: Meaning, heard: Heard, how: str) -> bool:
    """The answer to it; false when it is not of the kind."""
    line = counting(turn.state.job.ledger)[-1]
    entry = line.entry
    match meaning:
        case Readings(items=(item,)) if item.value is not None and entry.kg is not None:
            entry = entry.model_copy(update={"kg": item.value, "spoken": said_reading(item)})
        case Text(words=words) if entry.kg is None:
            entry = entry.model_copy(update={"text": words.strip().rstrip(" .")})
        case _:
            return False
    _enter(turn, entry, heard.words, how, line.number)
    turn.tell("ledger-corrected", "result", entry=entry_message(entry))
    return True


# ---- refrigerant and duties -------------------------------------------------------------------------------------


def tell_duties(turn: Turn, command: Command) -> bool:
    """Balance of refrigerant, then the duties; whose rules apply is asked once a site."""
    if turn.state.acknowledging:
        turn.tell("understood-first", "question")
        return False
    tell_balance(turn)
    if place_of(turn) is None:
        turn.emit(f.AsideAsked(topic="place"))
        return True
    tell_the_law(turn)
    ask_again(turn)
    return False


def known_place(state: VisitState) -> Place | None:
    """Whose rules apply: as it was said, or as it is remembered of the site."""
    recalled = state.job.recalled
    said = state.note("place") or (recalled.place if recalled else "")
    return said if said in ("eu", "us", "other") else None  # type: ignore[return-value]


def known_refrigerant(state: VisitState, profile: UnitProfile | None) -> str | None:
    """The unit's refrigerant, where it is known. ``profile`` may be one of general values."""
    if state.job.plate.refrigerant:
        return state.job.plate.refrigerant
    if state.profile and profile:
        return profile.refrigerant.name
    return state.note("refrigerant")


def known_charge_kg(state: VisitState, profile: UnitProfile | None) -> float | None:
    """The unit's charge with what its pipes hold beyond the free length, kg; None where it is not known."""
    plate, own = state.job.plate, profile if state.profile else None
    charge = plate.charge_kg or (own.refrigerant.charge_kg if own else None)
    if charge is None:
        return None
    if own and plate.pipe_m:
        beyond = max(0.0, plate.pipe_m - own.refrigerant.free_length_m)
        charge += beyond * own.refrigerant.added_g_per_m / 1000
    return charge


def law_for(state: VisitState, profile: UnitProfile | None, library: Library) -> tuple[Duty, ...]:
    """The duties of this unit, empty where refrigerant, charge, place or day is not known."""
    name, charge, place = known_refrigerant(state, profile), known_charge_kg(state, profile), known_place(state)
    if name is None or charge is None or place is None or not state.job.on:
        return ()
    mended = any(result.check == library.doing("prove-tight") for result in state.results if result.role == "proof")
    return duties(place, name, charge, date.fromisoformat(state.job.on), leak_mended=mended)


def place_of(turn: Turn) -> Place | None:
    """Whose rules apply at this visit."""
    return known_place(turn.state)


def refrigerant_of(turn: Turn) -> str | None:
    """The refrigerant of this visit's unit."""
    return known_refrigerant(turn.state, turn.profile)


def whole_charge_kg(turn: Turn) -> float | None:
    """The whole charge of this visit's unit."""
    return known_charge_kg(turn.state, turn.profile)


def tell_balance(turn: Turn) -> None:
    """What went in and came out, by cylinder, and what that weighs in CO2."""
    found = balance(turn.state.job.ledger)
    if not (found.charged_kg or found.recovered_kg):
        turn.tell("balance-none", "remark")
        return
    turn.tell("balance", "result", charged=_kg(found.charged_kg), recovered=_kg(found.recovered_kg))
    _tell_co2(turn, found)
    for cylinder, kg in found.cylinders.items():
        name = "cylinder-took" if kg > 0 else "cylinder-gave"
        turn.tell(name, "result", cylinder=cylinder, mass=_kg(abs(kg)))


def _tell_co2(turn: Turn, found: Balance) -> None:
    name = refrigerant_of(turn)
    if name is not None:
        tonnes = co2_tonnes(name, max(found.charged_kg, found.recovered_kg))
        turn.tell("balance-co2", "result", tonnes=f"{tonnes:.2f}")


def _kg(value: float) -> str:
    return f"{value:.3g} kg"


def the_law(turn: Turn) -> tuple[Duty, ...]:
    """The duties of this visit's unit."""
    return law_for(turn.state, turn.profile, turn.library)


def tell_the_law(turn: Turn) -> None:
    """Each duty with its article, and the date of the next check."""
    found = the_law(turn)
    if not found:
        turn.tell("duty-unknown", "remark")
        return
    name, charge = refrigerant_of(turn), whole_charge_kg(turn)
    if name is not None and charge is not None:
        turn.tell("duty-charge", "result", mass=_kg(charge), tonnes=f"{co2_tonnes(name, charge):.2f}")
    for duty in found:
        turn.tell(duty_message(duty), "result")
        if duty.article:
            turn.tell("duty-article", "remark", article=duty.article)


def duty_message(duty: Duty) -> Message:
    """A duty as it is told; its article is told for itself."""
    if duty.due is None:
        return message(duty.id)
    return message(duty.id, day=f"{duty.due.day} {duty.due.strftime('%B')} {duty.due.year}")


def place_answered(turn: Turn, place: str, words: str) -> None:
    """Whose rules apply; kept with the site."""
    turn.emit(f.Noted(topic="place", value=place, words=words))
    tell_the_law(turn)
