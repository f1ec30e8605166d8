"""Questions back, answered from profile, knowledge and journal; then the open question is asked again.

Nothing is told here that a caution has to come before: where hands and probes go is repeated only once it was said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from assistant.dialogue import phrases
from assistant.dialogue.asking import pending
from assistant.dialogue.pins import tell_pins, tell_signal
from assistant.dialogue.questions import ask_again
from assistant.dialogue.state import Given
from assistant.dialogue.turn import Turn
from assistant.dialogue.wording import given_words
from assistant.language.meaning import BackQuestion, BackTopic, Quantity
from assistant.language.units import canonical
from assistant.language.written import as_words
from assistant.library.demand import demand_of, procedures
from assistant.library.good import good_choice
from assistant.library.models import Check, Energy, Figure, Limit, Question
from assistant.messages.message import known, message
from assistant.quantities.spelling import UnitError
from assistant.reasoning.judges.values import known as known_value

#: How a limit is said, by its name in a check's judge.
_SAID = {
    "low": "expect-at-least",
    "lowest_v": "expect-at-least",
    "high": "expect-at-most",
    "highest_v": "expect-at-most",
    "mains_below": "expect-at-most",
    "stored_below": "expect-at-most",
    "nominal": "expect-about",
    "resistance": "expect-about",
}
#: Limits of one kind of voltage where a check reads both.
_OF: dict[str, Quantity] = {"mains_below": "voltage_ac", "stored_below": "voltage_dc"}
_POWER: dict[Energy, str] = {
    "any": "asked-power-any",
    "live": "asked-power-live",
    "isolated": "asked-power-isolated",
    "proved-dead": "asked-power-proved-dead",
}
#: A source's title of more words is left to the record.
_TITLE_WORDS = 16
#: A suspect below this chance is ruled out, if it was ever above ten times that. Common practice, no source.
_OUT = 0.01
_FEW = 3


def answer(turn: Turn, asked: BackQuestion) -> bool:
    """Answer a question back. Never leads the visit on."""
    if not TOPICS[asked.topic](turn, asked):
        turn.tell("asked-unknown", "remark")
    ask_again(turn)
    return False


def _open(turn: Turn) -> tuple[Check, Question | None] | None:
    """The check under way and its open question."""
    run = turn.state.run
    if run is None:
        return None
    check = turn.check(run.check)
    now = pending(check, run)
    return check, now[0] if now else None


def expected(turn: Turn, check: Check, question: Question) -> Iterator[tuple[str, str, Limit]]:
    """What a good reading is: the message that says it, the value in words, and the limit behind it."""
    if question.reading is None or question.key not in check.judge.inputs.values():
        return
    quantity: Quantity = question.reading.quantity
    for name, limit in check.judge.limits.items():
        said = _SAID.get(name)
        if said is None or _OF.get(name, quantity) != quantity or not _of_quantity(limit, quantity):
            continue
        try:
            value = known_value(limit, quantity, turn.profile, turn.library)
        except UnitError:  # the limit of another reading of the same check
            continue
        if value is not None:
            unit = question.reading.unit if isinstance(limit, Figure) else canonical(quantity)
            yield said, value.spoken(value.unit(unit)), limit


def _of_quantity(limit: Limit, quantity: Quantity) -> bool:
    """Whether the figure is one of the quantity that is read, and not a percentage of it."""
    figure = limit if isinstance(limit, Figure) else limit.otherwise
    return figure is None or figure.unit not in ("%", "K") or quantity in ("percent", "temperature_difference")


def _expected_value(turn: Turn, asked: BackQuestion) -> bool:
    now = _open(turn)
    if now is None:
        return False
    check, question = now
    if question is None:
        return False
    limits = list(expected(turn, check, question))
    for said, value, limit in limits:
        turn.tell(message(said, value=value), "remark")
        _source(turn, limit)
    good = good_choice(check, question) if not limits else None
    if not good and question.choices and check.id in procedures(turn.library):
        good = question.choices[0].id  # the one that gives safety
    if good:
        turn.tell("expect-answer", "remark", answer=phrases.labels(check.id, question).choice(good))
    return bool(limits or good) or tell_signal(turn, check, question)


def _source(turn: Turn, limit: Limit) -> None:
    if not isinstance(limit, Figure):
        turn.tell("source-profile" if turn.profile and not turn.profile.general else "source-general", "remark")
        return
    source = turn.library.sources.get(limit.source)
    if source is None or source.kind in ("practice", "memory"):
        turn.tell("source-practice", "remark")
    elif len(source.title.split()) <= _TITLE_WORDS:
        turn.tell("source-named", "remark", source=source.title)
    else:
        turn.tell("source-in-record", "remark")


def _how_do_i(turn: Turn, asked: BackQuestion) -> bool:
    """Where pins, places and the way to do it are told: the instruction once more, never before its cautions."""
    now = _open(turn)
    run = turn.state.run
    if now is None or run is None:
        return False
    if not run.described or turn.state.acknowledging:
        turn.tell("asked-caution-first", "remark")
        return True
    if now[0].probes:
        turn.tell(known("checks", now[0].id, "probes"), "instruction")
        tell_pins(turn, now[0])
    return bool(now[0].probes)


def _what_is_that(turn: Turn, asked: BackQuestion) -> bool:
    now = _open(turn)
    if now is None:
        return False
    turn.tell(known("checks", now[0].id, "why"), "remark")
    return True


def _how_sure(turn: Turn, asked: BackQuestion) -> bool:
    if not turn.state.symptoms:
        return False
    found = [(key, chance) for key, chance in turn.reasoner.ranked(turn.belief()) if key in turn.library.suspects]
    for key, chance in found[:2]:
        turn.tell("chance", "remark", suspect=known("suspects", key, "name"), chance=min(99, round(100 * chance)))
    return bool(found)


def _ruled_out(turn: Turn, asked: BackQuestion) -> bool:
    if not turn.state.symptoms:
        return False
    before = dict(turn.reasoner.ranked(turn.reasoner.start(turn.state.symptoms)))
    now = dict(turn.reasoner.ranked(turn.belief()))
    out = sorted(
        (
            key
            for key, chance in now.items()
            if chance < _OUT < before.get(key, 0.0) / 10 and key in turn.library.suspects
        ),
        key=lambda key: -before[key],
    )
    for key in out[:_FEW]:
        turn.tell("ruled-out", "remark", suspect=known("suspects", key, "name"))
    if not out:
        turn.tell("nothing-ruled-out", "remark")
    return True


def _what_did_i_say(turn: Turn, asked: BackQuestion) -> bool:
    """The answer that was named ("U to V", "the filter"), or the last one."""
    given = _named(turn, as_words(asked.argument)) if asked.argument else turn.state.last_answer()
    if given is None:
        turn.tell("said-nothing-yet", "remark")
        return True
    turn.tell("you-said", "remark", check=known("checks", given.check, "title"), answer=given_words(turn, given))
    return True


def _named(turn: Turn, words: str) -> Given | None:
    """The newest answer whose place, check or question is called so."""
    groups = [turn.state.run.answers if turn.state.run else (), turn.state.told]
    groups += [result.answers for result in reversed(turn.state.results)]
    for given in (one for answers in groups for one in reversed(answers) if not one.replaced):
        check = turn.check(given.check)
        question = next(one for one in check.ask if one.key == given.question)
        places = question.reading.places if question.reading else ()
        called = [phrase for place in places if place.id == given.place for phrase in place.phrases]
        called += [check.title, *check.phrases]
        if any(as_words(name) in words or words in as_words(name) for name in called):
            return given
    return None


def _how_long(turn: Turn, asked: BackQuestion) -> bool:
    until = turn.state.wait_until_s
    if until is not None and until > turn.now_s:
        turn.tell("time-left", "remark", time=phrases.span_of_time(until - turn.now_s))
        return True
    now = _open(turn)
    if now is None:
        return False
    turn.tell("time-taken", "remark", time=phrases.span_of_time(60 * now[0].minutes))
    return True


def _which_tool(turn: Turn, asked: BackQuestion) -> bool:
    now = _open(turn)
    if now is None:
        return False
    tools = now[0].tools
    turn.tell(message("tools", tools=", ".join(tools)) if tools else message("no-tool"), "remark")
    return True


def _is_power_needed(turn: Turn, asked: BackQuestion) -> bool:
    now = _open(turn)
    if now is None:
        return False
    turn.tell(message(_POWER[demand_of(now[0]).power]), "remark")
    return True


TOPICS: dict[BackTopic, Callable[[Turn, BackQuestion], bool]] = {
    "which-pins": _how_do_i,
    "where-is-it": _how_do_i,
    "how-do-i": _how_do_i,
    "expected-value": _expected_value,
    "what-is-normal": _expected_value,
    "what-is-that": _what_is_that,
    "how-sure": _how_sure,
    "ruled-out": _ruled_out,
    "what-did-i-say": _what_did_i_say,
    "how-long": _how_long,
    "which-tool": _which_tool,
    "is-power-needed": _is_power_needed,
}
