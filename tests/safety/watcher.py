"""The onlooker itself: listens to one visit, turn by turn, keeps the books and names what breaks a rule.

It takes from the program only what an onlooker has: the words that are spoken, the words of the step that is led to,
what is asked and what is answered to it, and the clock.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache

from assistant.dialogue import facts as f
from assistant.dialogue.state import Stage
from assistant.dialogue.step import Event, Resumed, Words
from assistant.dialogue.turn import Turn
from assistant.language.meaning import Command, Emergency, Finding, Reading
from assistant.library.loader import Library
from assistant.library.models import Question
from tests.safety import answers, ends, rules
from tests.safety.books import LONG_S, Books
from tests.safety.listening import topics
from tests.safety.rules import Break, Step
from tests.safety.things import THING_WORDS
from tests.safety.words import places

_POWER_BACK = Command(name="power-back")
#: By what words each thing comes off.
OFF = {name: off for name, off, _ in THING_WORDS}


@dataclass
class Watcher:
    """Watches one visit. ``library`` serves to look up words: titles, questions and the phrases of answers."""

    library: Library
    books: Books = field(default_factory=Books)
    breaks: list[Break] = field(default_factory=list)
    step: Step = field(default_factory=Step)
    owed: bool = False  # "say understood" was asked and not answered
    kept: list[Books] = field(default_factory=list)  # where "go back" leads
    instructed: set[str] = field(default_factory=set)
    given: set[int] = field(default_factory=set)  # the numbers of the answers to the step under way

    def see(self, event: Event, turn: Turn) -> list[Break]:
        """Look at what one event caused; returns the rules that it broke."""
        before = len(self.breaks)
        self.books.now_s = event.now_s
        heard = event.heard if isinstance(event, Words) else None
        if isinstance(event, Resumed):
            taken = any(isinstance(fact, f.TakenOver) for fact in turn.facts)  # then all is due anew, whoever was away
            self._away(None if taken else event.away_s, turn)
        if heard is not None and isinstance(heard.meaning, Emergency) and heard.trust != "again":
            self.breaks += ends.emergency_first(heard.meaning.what, turn.replies)
        if heard is not None and heard.meaning == _POWER_BACK and heard.trust != "again":
            self.books.live()  # whoever said so, and whatever comes of it
        for fact in turn.facts:
            self._fact(fact, turn)
        obeyed = heard is not None and isinstance(heard.meaning, Command) and heard.trust != "again"
        if obeyed and heard.meaning.name == "is-it-safe" and any("safe-" in _id(reply) for reply in turn.replies):
            self.breaks += ends.safe_is_true(self.books, turn.replies)
        if self.owed:
            self.breaks += rules.one_question(turn.replies)
        self._resync(turn)
        return self.breaks[before:]

    def _fact(self, fact: f.Fact, turn: Turn) -> None:
        books = self.books
        match fact:
            case f.WordsHeard(heard=heard):
                if self.owed and heard.meaning == Finding(choice="understood") and heard.trust == "sure":
                    books.understood()
                    self.owed = False
            case f.Said(text=text, about=about):
                self._said(text, about)
            case f.CheckStarted(check=name, towards=towards):
                self._lead_to(self._words_of_check(name))
                self.step.ahead = self._words_of_check(towards).words if towards in self.library.checks else ""
            case f.FaultNamed(suspect=name) if name in self.library.suspects:
                self._lead_to(self._words_of_repair(name))
            case f.AnswerGiven() | f.FactTold():
                self._answer(fact, turn)
            case f.CheckJudged():
                answers.judged(books, self.step)
                rules.circuit_is(books, self.step.words)
                self._left_back()
                if turn.state.stage is Stage.REPAIR:
                    self._lead_to(self._words_of_repair(turn.state.suspect or ""))
            case f.IndicationNoted(symptom=name) if name in self.library.symptoms:
                answers.symptom(books, self.library.symptoms[name].name)
            case f.RepairDone(done=True):
                books.mended(self.step.words)
                rules.circuit_is(books, self.step.words)  # "weigh in" that was told to be done has charged it
            case f.ZoneChanged(zone=zone, only_named=True):
                books.called(zone)
            case f.Noted(topic="zone", value=zone):
                books.at_zone(zone)
            case f.EmergencyCalled(emergency=kind):
                answers.emergency(books, kind)
                self.owed = False
            case f.EmergencySettled(real=False):
                answers.false_alarm(books)
            case f.Held(at_s=at_s):
                books.held_since_s = at_s if books.held_since_s is None else books.held_since_s
            case f.TakenOver():  # who goes on hangs a lock of his own (29 CFR 1910.147(f)(4)) and has heard no caution
                books.powered()
                self.owed = False
            case f.Released():
                self._away(None if books.held_since_s is None else books.now_s - books.held_since_s, turn)
                books.held_since_s = None
            case f.StepRemembered():
                self.kept.append(books.snapshot())
            case f.WentBack() if self.kept:
                books.back_to(self.kept.pop())
                self.owed = False
                self._resync(turn)
            case f.CheckSkipped() | f.RunDropped() | f.CheckAskedFor() | f.StageEntered() | f.FinishAsked():
                self.owed = False
                if not isinstance(fact, f.FinishAsked):
                    answers.left(books, self.step)
            case f.VisitClosed():
                self.breaks += ends.left_is_told(books, turn.replies)

    # -- speech ---------------------------------------------------------------------------------------------------

    def _said(self, text: str, about: str) -> None:
        if about == "instruction":
            self.instructed.add(text)
        elif (
            about == "result"
            or re.match(r"I heard|Did you mean|.*You can answer", text)
            or (about == "remark" and text not in self.instructed)
        ):
            return  # read back or told about, not led to; an instruction that is repeated is one
        if re.search(r"\bcount (it|the unit) as live\b", text.lower()):
            self.books.live()
        if re.search(r"\bhands off now\b", text.lower()):
            self.owed = False  # the step is left, and whatever it comes back to begins anew
        if text == "Say understood.":
            self.owed = True
            return
        if about == "caution":
            for topic, whole in topics(text):
                self.books.spoke(topic, self.step.places, whole, self.step.number)
                if topic == "lock":
                    self.books.lock_ordered = True
            if re.search(r"\bnew pipes hold air\b", text.lower()):
                self.books.circuit = {"opened"}
            if re.search(r"\bswitch on\b", text.lower()):  # said before "understood", it may be done before it
                self.breaks += rules.power_comes_on(self.books, self.step, text)
            return
        if self.owed and about == "instruction":
            self.breaks.append(Break("understood-first", f"“{text}” while a caution waits for its own acknowledgement"))
        self.breaks += rules.look_at(self.books, self.step, text)
        self._moves(text)

    def _moves(self, text: str) -> None:
        back, off = _moved(text.lower())
        self.books.ordered_back |= back
        self.books.off |= dict.fromkeys(off, "anywhere")

    def _left_back(self) -> None:
        """A step is over: what it ordered back or unclipped itself, in its own words, is so when they are followed."""
        said, books = self.step.words.lower(), self.books
        if "put it back" in said:
            books.off = {name: at for name, at in books.off.items() if not OFF[name].search(said)}
        if "unclip the pair" in said:
            books.off.pop("clip on the pair", None)

    # -- answers --------------------------------------------------------------------------------------------------

    def _answer(self, fact: f.AnswerGiven | f.FactTold, turn: Turn) -> None:
        check = self.library.checks[fact.check]
        question = next(one for one in check.ask if one.key == fact.question)
        told = isinstance(fact, f.FactTold)
        corrected = not told and fact.replaces is not None and fact.replaces not in self.given
        self.given.add(fact.number)
        words, place = _answer_words(question, fact.answer), _place_words(question, fact.place)
        step = self.step if fact.check == self.step.name else self._words_of_check(fact.check)
        value = fact.answer if isinstance(fact.answer, Reading) else None
        if value is not None and value.special == "open_line":
            value = value.model_copy(update={"value": float("inf")})
        if not told and fact.replaces is not None:
            self.books.decay.clear()  # what is taken back was never read
            self.books.disputed(check.id, None if corrected else self.step.number)
        parts = len(question.reading.places) if question.reading else 0
        found = answers.take(self.books, step, question.say, words, value, place, told or corrected, parts)
        if not told and fact.replaces is not None:
            self.books.decay.clear()
        said = " ".join(reply.text for reply in turn.replies)
        self.breaks += [each for each in found if not re.search(r"does not fall|still fed", said)]

    # -- where the visit stands -------------------------------------------------------------------------------------

    def _away(self, away_s: float | None, turn: Turn) -> None:
        """A long hold: the lock, the measurement and the caution count no more, and it has to be said."""
        if away_s is not None and away_s <= LONG_S:
            if self.owed and not any(topics(reply.text) for reply in turn.replies if reply.about == "caution"):
                self.breaks.append(Break("caution-again", "a caution waits and is not said again to who comes back"))
            return
        if self.books.locked:
            self.breaks += ends.long_hold(turn.replies)
            self.books.live()
        self.books.epoch += 1
        self.owed = False  # it is due anew, from the lock

    def _lead_to(self, step: Step) -> None:
        step.number = self.step.number + 1
        self.step = step
        self.given = set()
        self.books.read_now = {}  # a step that was left before its end read nothing

    def _resync(self, turn: Turn) -> None:
        run, suspect = turn.state.run, turn.state.suspect
        if run is not None and run.check != self.step.name:
            self._lead_to(self._words_of_check(run.check))
        elif run is None and suspect is not None and self.step.name != suspect:
            self._lead_to(self._words_of_repair(suspect))

    def _words_of_check(self, name: str) -> Step:
        check = self.library.checks[name]
        words = " ".join([check.title + ".", check.probes, *(question.say for question in check.ask)])
        return Step(name, check.title, words, frozenset(places(words)))

    def _words_of_repair(self, name: str) -> Step:
        suspect = self.library.suspects[name]
        words = f"{suspect.name}. {suspect.repair.say}"
        return Step(name, suspect.name, words, frozenset(places(words)))


@lru_cache(maxsize=4096)
def _moved(said: str) -> tuple[frozenset[str], tuple[str, ...]]:
    """What these words order back on, and what they take off."""
    ordered = frozenset(name for name, _, back in THING_WORDS if back.search(said))
    if re.search(r"\bstill (off|unplugged)\b|\bcapped apart\b", said):
        return ordered, ()
    return ordered, tuple(name for name, off, _ in THING_WORDS if name not in ordered and off.search(said))


def _id(reply: object) -> str:
    message = getattr(reply, "message", None)
    return message.id if message is not None else ""


def _answer_words(question: Question, answer: f.Answer) -> str:
    if isinstance(answer, Finding):
        return next((choice.phrases[0] for choice in question.choices if choice.id == answer.choice), answer.choice)
    return ""


def _place_words(question: Question, place: str | None) -> str:
    offered = question.reading.places if question.reading else ()
    return next((choice.phrases[0] for choice in offered if choice.id == place), "")
