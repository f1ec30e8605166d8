"""How a reading went from visit to visit, against its limits, when that is asked for."""

from __future__ import annotations

from assistant.dialogue.asked_back import expected
from assistant.dialogue.measured import measured
from assistant.dialogue.nameable import OF_SUSPECT
from assistant.dialogue.questions import ask_again
from assistant.dialogue.turn import Turn
from assistant.job.memory import COMPUTED, Measured, spoken_day
from assistant.language.meaning import Command, Reading
from assistant.library.models import Check
from assistant.messages.message import known, message
from assistant.quantities.systems import System

#: So many readings of one row are told, the newest, and so many rows.
_MOST_READINGS, _MOST_ROWS = 3, 3
#: A row in one direction, from so many readings on, is said to rise or to fall.
_A_DIRECTION = 3

Row = list[tuple[str, Measured]]  # by day


def tell_trend(turn: Turn, command: Command) -> bool:
    """ "Trend of the superheat": earlier readings and today's, oldest first, and what they should be."""
    check = _meant(turn, command.argument)
    if check is None:
        turn.tell("trend-nothing", "remark")
        ask_again(turn)
        return False
    rows = _rows(turn, check)
    shown = {key: row for key, row in rows.items() if len(row) > 1 or row[0][0] != turn.state.job.on}
    title = known("checks", check.id, "title")
    if not shown:
        turn.tell("trend-none", "remark", title=title)
    computed = {key: row for key, row in shown.items() if key[0] == COMPUTED}
    for (_, place, _), row in list((computed or shown).items())[:_MOST_ROWS]:
        heard = [(spoken_day(day), _in_one(item.said, turn.state.system)) for day, item in row[-_MOST_READINGS:]]
        told = ", ".join(f"{day} {said}".strip() for day, said in heard)
        turn.tell("trend-of", "remark", title=title, list=f"{place} {told}".strip())
        values = [item.value for _, item in row]
        if len(values) >= _A_DIRECTION and values == sorted(values) and values[0] < values[-1]:
            turn.tell("trend-rises", "remark")
        elif len(values) >= _A_DIRECTION and values == sorted(values, reverse=True) and values[0] > values[-1]:
            turn.tell("trend-falls", "remark")
    if shown:
        newest = [row[-1][1] for row in computed.values()]
        _limits(turn, check, newest[0] if newest else None)
    ask_again(turn)
    return False


def _meant(turn: Turn, argument: str) -> Check | None:
    """The check that was named, of a part the first that confirms its fault; else what is open or was read last."""
    checks = turn.library.checks
    if argument.startswith(OF_SUSPECT):
        suspect = turn.library.suspects[argument.removeprefix(OF_SUSPECT)]
        return next((checks[one] for one in suspect.confirm if one in checks), None)
    if argument:
        return checks.get(argument)
    if turn.state.run is not None and any(one.reading for one in turn.check(turn.state.run.check).ask):
        return turn.check(turn.state.run.check)
    read = (r.check for r in reversed(turn.state.results) if any(isinstance(g.answer, Reading) for g in r.answers))
    return next((checks[name] for name in read if name in checks), None)


def _rows(turn: Turn, check: Check) -> dict[tuple[str, str, str], Row]:
    """By question, place and zone: the readings of all visits, oldest first, today's last."""
    unit = turn.state.job.unit
    rows: dict[tuple[str, str, str], Row] = {}
    for visit in reversed(unit.past if unit else ()):
        for item in visit.measured:
            if item.key.partition(".")[0] == check.id:
                _put(rows, visit.on, item)
    for item in measured(turn.state, turn.library):
        if item.key.partition(".")[0] == check.id:
            _put(rows, turn.state.job.on, item)
    return rows


def _put(rows: dict[tuple[str, str, str], Row], day: str, item: Measured) -> None:
    rows.setdefault((item.key.partition(".")[2], item.place, item.zone), []).append((day, item))


def _limits(turn: Turn, check: Check, newest: Measured | None) -> None:
    """What it should be: what was computed, by the limits it was judged by; a reading, as it is told when asked."""
    if newest is not None:
        for said, value in (("expect-at-least", newest.low), ("expect-at-most", newest.high)):
            if value:
                turn.tell(message(said, value=value), "remark")
        return
    for question in check.ask:
        for said, value, _ in expected(turn, check, question):
            turn.tell(message(said, value=value), "remark")


def _in_one(said: str, system: System) -> str:
    """A value in the visit's system alone: of "2.7 K (4.8 °F)" the one or the other. A row is long enough to hear."""
    first, _, other = said.partition(" (")
    return other.removesuffix(")") if other and system == "us" else first
