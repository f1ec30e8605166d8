"""The way in for a screen: a visit is led by what it shows and by taps alone, without any word list."""

from __future__ import annotations

import io
import json
from datetime import datetime
from random import Random

import jsonschema
import pytest

from assistant.dialogue import facts as f
from assistant.language.meaning import CANONICAL_UNIT, Finding, Readings
from assistant.visit.journal import Journal
from assistant.visit.screen import Screen, TapError, read_tap, screen
from assistant.visit.screen.schema import FILE, schema
from assistant.visit.screen.taps import TapChoice, TapCommand, TapEmergency, TapReading, TapText
from assistant.visit.session import RealClock, Session
from assistant.visit.transcript import Transcript
from tests.simulation.catalogue import ANSWERS, broken_unit
from tests.simulation.technician import Technician
from tests.simulation.unit import sound_unit

#: What is chosen in a procedure and in the visit's own questions, by key.
CHOSEN = ("understood", "done", "dead", "yes", "sea-level", "copper-wren-solo", "nothing")

#: More taps than this lead nowhere.
MOST = 40


class Clock(RealClock):
    """Time goes only where a wait must pass."""

    def __init__(self) -> None:
        super().__init__(now_s=lambda: 0.0)


@pytest.fixture
def session(context, tmp_path):
    with Journal(tmp_path / "journal.sqlite") as journal:
        session = Session.begin(context, journal, Clock(), "typed", datetime(2026, 11, 28, 9, 0))
        yield session
        session.close()


class Tapping:
    """Answers with what the screen shows; a check's answer is what the simulated unit measures."""

    def __init__(self, session: Session, technician: Technician, symptom: str) -> None:
        self.session, self.technician, self.symptom = session, technician, symptom
        self.screens: list[Screen] = []

    def see(self, turn) -> Screen:
        shown = screen(self.session.context, turn)
        self.screens.append(Screen.model_validate_json(shown.model_dump_json()))
        return self.screens[-1]

    def lead(self, turns: int = 250) -> Screen:
        shown = self.see(self.session.open())
        for _ in range(turns):
            if shown.stage == "closed":
                break
            if shown.wait_until_s is not None:
                self.session.clock.offset_s += shown.wait_until_s + 1 - self.session.clock.now_s()
                shown = self.see(self.session.tick())
                continue
            shown = self.see(self.session.tap(self.tap(shown)))
        return shown

    def tap(self, shown: Screen):
        keys = [choice.key for choice in shown.choices]
        if shown.stage == "repair-note":  # it is mended
            library = self.session.context.library
            whole = sound_unit(library.profiles["copper-wren-solo"], Random(4), False)
            self.technician = Technician(library, whole, Random(4), 0.0)
        if shown.check is not None and shown.check.key in ANSWERS and not shown.acknowledge and not shown.confirming:
            answer = self._measured(shown)
            if answer is not None:
                return answer
        if shown.stage in ("indication", "unsolved") and self.symptom in keys:
            if shown.stage == "unsolved":
                return TapCommand(name="finish")
            return TapChoice(question=shown.question, choice=self.symptom)
        for key in CHOSEN:
            if key in keys:
                return TapChoice(question=shown.question, choice=key)
        if shown.reading is not None:
            place = next((place.key for place in shown.reading.places), None)
            return TapReading(question=shown.question, value=0.0, unit=shown.reading.unit, place=place)
        if keys:
            return TapChoice(question=shown.question, choice=keys[0])
        return TapText(question=shown.question, words="the old bakery")

    def _measured(self, shown: Screen):
        assert shown.check is not None
        check = self.session.context.library.checks[shown.check.key]
        key = shown.question.split(".")[1]
        answer = self.technician.answer(check).get(key)
        if isinstance(answer, Finding):
            return TapChoice(question=shown.question, choice=answer.choice)
        if not isinstance(answer, Readings):
            return None
        asked = shown.question.split(".")[2:]
        item = next((one for one in answer.items if not asked or one.place == asked[0]), answer.items[0])
        value = None if item.special else item.value
        unit = CANONICAL_UNIT[item.quantity]
        if value is None:
            return TapReading(question=shown.question, special=item.special or "unstable", place=item.place)
        return TapReading(question=shown.question, value=value, unit=unit, place=item.place)


def test_a_whole_visit_is_led_by_taps_alone(session, tapping):
    last = tapping.lead()
    facts = [item.fact for item in session.journal.facts(session.visit)]
    assert last.stage == "closed", last.question
    assert any(isinstance(fact, f.RepairDone) and fact.suspect == "filter-dirty" for fact in facts)
    assert {"site", "profile", "indication", "check", "repair", "proof", "closed"} <= {s.stage for s in tapping.screens}
    assert all(fact.how == "typed" for fact in facts if isinstance(fact, f.AnswerGiven))
    checker = jsonschema.Draft202012Validator(json.loads(schema()))
    for shown in tapping.screens:
        assert list(checker.iter_errors(shown.model_dump(mode="json"))) == []
        assert shown.asked or shown.stage == "closed" or shown.held
        assert all(choice.label for choice in shown.choices)
    judged = [shown.verdict for shown in tapping.screens if shown.verdict is not None]
    assert judged
    assert all(verdict.says and verdict.message for verdict in judged)
    assert any(shown.suspects and shown.suspects[0].chance > 0.5 for shown in tapping.screens)


def test_the_published_schema_is_the_models():
    assert FILE.read_text(encoding="utf-8") == schema()


def test_a_tap_for_a_question_that_was_open_before_is_refused(session):
    session.open()
    session.tap(TapText(question="visit.site", words="the old bakery"))
    before = session.journal.last_seq(session.visit)
    with pytest.raises(TapError, match=r"visit.site is open no more, visit\.\w+ is; nothing was taken"):
        session.tap(TapText(question="visit.site", words="another place"))
    assert session.journal.last_seq(session.visit) == before


@pytest.fixture
def tapping(session, context) -> Tapping:
    """Somebody at a unit with a dirty filter."""
    library = context.library
    unit = broken_unit(library.profiles["copper-wren-solo"], library.suspects["filter-dirty"], Random(4))
    return Tapping(session, Technician(library, unit, Random(4), 0.0), "indoor-fan-weak")


def at_check(tapping: Tapping, check: str, there) -> Screen:
    """Taps the way to a check that was asked for, until the screen is ``there``."""
    shown, asked = tapping.see(tapping.session.open()), False
    while not (asked and there(shown)):
        assert len(tapping.screens) < MOST, shown.question
        tap = tapping.tap(shown)
        if shown.stage == "check" and not asked and not shown.acknowledge:
            tap, asked = TapCommand(name="check", argument=check), True
        shown = tapping.see(tapping.session.tap(tap))
    return shown


def test_a_tapped_reading_keeps_the_rules_of_a_typed_one(session, tapping):
    shown = at_check(tapping, "supply-volts", lambda shown: shown.question.startswith("supply-volts."))
    high = shown.reading.plausible[1]
    place = next((place.key for place in shown.reading.places), None)
    with pytest.raises(TapError, match="kPa"):
        session.tap(TapReading(question=shown.question, value=1.0, unit="kPa", place=place))
    with pytest.raises(TapError, match="no place"):
        session.tap(TapReading(question=shown.question, value=1.0, place="the-moon"))
    with pytest.raises(TapError, match="either a value or a special"):
        session.tap(TapReading(question=shown.question, place=place))
    refused = session.tap(TapReading(question=shown.question, value=10 * high, place=place))
    assert not any(isinstance(fact, f.AnswerGiven) for fact in refused.facts)
    assert any(isinstance(fact, f.Misheard) and fact.refused for fact in refused.facts)
    taken = session.tap(TapReading(question=shown.question, value=shown.reading.plausible[0] + 1, place=place))
    [given] = [fact for fact in taken.facts if isinstance(fact, f.AnswerGiven)]
    assert given.how == "typed"
    assert any(each.about == "result" for each in taken.replies), "it is read back"


def test_a_caution_counts_by_its_own_acknowledgement_only(session, tapping):
    shown = at_check(tapping, "prove-dead", lambda shown: bool(shown.acknowledge))
    assert [choice.key for choice in shown.choices] == ["understood"]
    with pytest.raises(TapError, match="no choice"):
        session.tap(TapChoice(question=shown.question, choice="yes"))
    assert session.state.acknowledging


def test_an_emergency_is_tapped_in_any_state(session):
    session.open()
    turn = session.tap(TapEmergency(what="fire"))
    shown = screen(session.context, turn)
    assert shown.held
    assert [hazard.key for hazard in shown.hazards] == ["fire"]
    assert "touch" in shown.hazards[0].bars


def test_the_json_of_a_turn_has_all_that_a_screen_shows(session):
    out = io.StringIO()
    turn = session.open()
    Transcript(out, as_json=True).turn(session, turn)
    assert Screen.model_validate(json.loads(out.getvalue())["screen"]) == screen(session.context, turn)


@pytest.mark.parametrize("line", ["{", '{"kind": "kick"}', '{"kind": "choice", "question": "visit.site"}', "{}"])
def test_what_is_no_tap_is_refused_in_one_sentence(line):
    with pytest.raises(TapError, match="That is no tap"):
        read_tap(line)
