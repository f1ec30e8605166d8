"""kill -9 at random instants: of a session in a forked child (hundreds a minute), of the whole program, of a replay."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import sys
import time
import traceback
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from random import Random
from typing import IO, Any

from assistant.dialogue import facts as f
from assistant.dialogue.evolve import fold
from assistant.dialogue.step import expected
from assistant.library.loader import load
from assistant.visit.journal import Journal
from assistant.visit.reading import JournalReader
from assistant.visit.session import Knowledgeable, RealClock, Session
from tests.robust.campaign.report import Report
from tests.robust.campaign.typing import line

ROOT = Path(__file__).parents[3]
#: A visit is left after so many turns, and another begun.
_TURNS = 60


class Forked:
    """A session in a child of its own: a line goes in, what is asked and how many facts there are comes out."""

    def __init__(self, context: Knowledgeable, journal: Path, visit: str | None) -> None:
        self.began = time.perf_counter()
        to_child, from_us = os.pipe()
        from_child, to_us = os.pipe()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(from_us)
            os.close(from_child)
            out = os.fdopen(to_us, "w")
            with contextlib.suppress(BaseException):
                try:
                    _serve(context, journal, visit, os.fdopen(to_child), out)
                except Exception as error:
                    where = traceback.extract_tb(error.__traceback__)[-1]
                    told = f"{type(error).__name__}: {error} ({where.filename}:{where.lineno})"
                    out.write(json.dumps({"ended": told, "closed": True}) + "\n")
                    out.flush()
            os._exit(1)
        os.close(to_child)
        os.close(to_us)
        self._in, self._out = os.fdopen(from_us, "w"), os.fdopen(from_child)
        self.first = self.answer()

    def say(self, words: str) -> None:
        """A line, without waiting for what comes of it; into the void when the child is gone."""
        with contextlib.suppress(BrokenPipeError):
            self._in.write(words + "\n")
            self._in.flush()

    def answer(self) -> dict[str, Any] | None:
        """What came of it; None when the child is gone."""
        told = self._out.readline()
        return json.loads(told) if told.endswith("\n") else None

    def kill(self) -> None:
        """At once, without a word."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        with contextlib.suppress(OSError):
            self._in.close()
        self._out.close()


def _serve(context: Knowledgeable, path: Path, visit: str | None, lines: IO[str], out: IO[str]) -> None:
    journal = Journal(path)
    if visit is None:
        session = Session.begin(context, journal, RealClock(), "typed", datetime.now())
        session.open()
    else:
        session = Session.resume(context, journal, visit)
        session.reopen()
    while True:
        told = {"visit": session.visit, "question": session.expectation.question, "facts": session.seen,
                "closed": session.closed}  # fmt: skip
        out.write(json.dumps(told) + "\n")
        out.flush()
        words = lines.readline()
        if not words or session.closed:
            return
        if session.tick() is None:
            session.type(words.strip())


def of_sessions(count: int, seed: int, folder: Path) -> Report:
    """Kill a session at a random instant after a line went in; resume; look whether all is there and asked the same."""
    report = Report("kill -9, session")
    chance = Random(seed)
    context = Knowledgeable(load(user=folder / "nobody"))
    _warm(context, folder / "warm.sqlite")
    journal = folder / "journal.sqlite"
    visit: str | None = None
    while report.tried < count:
        child = Forked(context, journal, visit)
        told = child.first
        if told is None or "ended" in told:
            report.failures.append(f"seed {seed}, kill {report.tried}: it did not resume: {told}")
            return report
        report.seconds.append(time.perf_counter() - child.began)
        if visit is not None:
            _look(report, journal, context, told, seed)
        visit = str(told["visit"])
        for _ in range(chance.randint(0, 6)):
            words = line(told["question"], chance)
            child.say(words)
            after = child.answer()
            if after is None or "ended" in after:
                where = f"seed {seed}, kill {report.tried}: “{words}” at {told['question']}"
                report.failures.append(f"{where} ended it by itself: {(after or {}).get('ended')}")
                break
            if after["closed"]:
                break
            told = after
            report.kept += 1
        acknowledged = told["facts"]
        child.say(line(told["question"], chance))
        time.sleep(chance.random() * chance.choice([0.002, 0.02]))
        child.kill()
        report.tried += 1
        with JournalReader(journal) as reader:
            report.hold(reader.notices == [], f"seed {seed}, kill {report.tried}: {reader.notices}")
            rows = reader.facts(visit)
            report.hold(len(rows) >= acknowledged, f"seed {seed}, kill {report.tried}: acknowledged facts are lost")
            if reader.row(visit).closed or len(rows) > 12 * _TURNS:
                visit = None
    return report


def _warm(context: Knowledgeable, path: Path) -> None:
    """Load what a first turn loads, before the forks: a child would be killed while it loads, not while it writes."""
    with Journal(path) as journal:
        session = Session.begin(context, journal, RealClock(), "typed", datetime.now())
        session.open()
        for words in ("mill lane", "copper wren solo", "the small leaf lamp goes on and off"):
            session.type(words)
        session.close()


def _look(report: Report, journal: Path, context: Knowledgeable, told: dict[str, Any], seed: int) -> None:
    """After resuming: the question is that of the facts before, and no answer is there twice."""
    with JournalReader(journal) as reader:
        facts = [item.fact for item in reader.facts(told["visit"])]
    # One that was killed before its first words were written begins.
    last = max((place for place, fact in enumerate(facts) if isinstance(fact, f.Reopened)), default=0)
    where = f"seed {seed}, kill {report.tried}"
    before = expected(context, fold(facts[:last])).question
    report.hold(told["question"] == before or told["closed"], f"{where}: asked {told['question']}, not {before}")
    numbers = [fact.number for fact in facts if isinstance(fact, f.AnswerGiven)]
    report.hold(len(numbers) == len(set(numbers)), f"{where}: an answer is there twice")


@contextlib.contextmanager
def _program(home: Path, *words: str) -> Iterator[subprocess.Popen[str]]:
    environment = {**os.environ, "LADDERSIDE_HOME": str(home)}
    command = [sys.executable, "-m", "assistant", *words]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT, env=environment
    ) as program:
        try:
            yield program
        finally:
            program.kill()


def of_programs(count: int, seed: int, folder: Path) -> Report:
    """The same with the program as its user starts it, from its first moment on."""
    report = Report("kill -9, whole program")
    chance = Random(seed)
    question, asked, turns = "", "", 0
    while report.tried < count:
        words = ["type", "--json", *(["--resume"] if question else [])]
        began = time.perf_counter()
        with _program(folder, *words) as program:
            assert program.stdin is not None
            assert program.stdout is not None
            if chance.random() < 0.2:
                time.sleep(chance.random())  # killed while it starts
                program.kill()
                report.tried += 1
                continue
            first = json.loads(program.stdout.readline() or "{}")
            if "question" not in first:
                report.failures.append(f"seed {seed}, kill {report.tried}: {words} said nothing")
                return report
            report.seconds.append(time.perf_counter() - began)
            if question:
                same = first["question"] in (question, asked)
                report.hold(same, f"seed {seed}, kill {report.tried}: asked {first['question']}, not {question}")
            question = first["question"]
            for _ in range(chance.randint(0, 3)):
                program.stdin.write(line(question, chance) + "\n")
                program.stdin.flush()
                told = json.loads(program.stdout.readline() or "{}")
                if "question" not in told or told["question"] == "":
                    break
                question, turns = told["question"], turns + 1
                report.kept += 1
            program.stdin.write(line(question, chance) + "\n")
            program.stdin.flush()
            time.sleep(chance.random() * 0.05)
            program.kill()
        report.tried += 1
        with JournalReader(folder / "journal.sqlite") as reader:
            report.hold(reader.notices == [], f"seed {seed}, kill {report.tried}: {reader.notices}")
            latest = reader.latest(closed=False)
            # What was in the air when it was killed may have been committed: then the next question is asked.
            context_question = "" if latest is None else _question_of(reader, latest.id, folder)
            asked = context_question
            if latest is None or turns > _TURNS:
                question, turns = "", 0
    return report


_context: Knowledgeable | None = None


def _question_of(reader: JournalReader, visit: str, folder: Path) -> str:
    global _context
    if _context is None:
        _context = Knowledgeable(load(user=folder / "nobody"))
    return expected(_context, fold(item.fact for item in reader.facts(visit))).question


def of_replays(count: int, seed: int, folder: Path) -> Report:
    """A replayed visit killed at a random instant goes on by keyboard at the question that it had come to."""
    report = Report("kill -9, replay")
    chance = Random(seed)
    recordings = sorted(path.parent for path in (ROOT / "recordings_synthetic").glob("*/script.yaml"))
    for number in range(count):
        home = folder / str(number)
        turns = []
        with _program(home, "replay", "--json", str(chance.choice(recordings))) as program:
            assert program.stdout is not None
            for _ in range(chance.randint(1, 12)):
                told = program.stdout.readline()
                if told.endswith("\n") and "question" in json.loads(told):
                    turns.append(json.loads(told))
            time.sleep(chance.random() * 3)
            program.kill()
            turns += [json.loads(each) for each in program.stdout if each.endswith("\n") and '"question"' in each]
        report.tried += 1
        with JournalReader(home / "journal.sqlite") as reader:
            latest = reader.latest(closed=False)
            if latest is None:
                continue
            said = [item.fact.text for item in reader.facts(latest.id) if isinstance(item.fact, f.Said)]
            printed = [text for turn in turns for text in turn["says"]]
            report.hold(said[: len(printed)] == printed, f"seed {seed}, replay {number}: what was printed is lost")
            report.kept += len(turns)
            asked = _question_of(reader, latest.id, folder)
        began = time.perf_counter()
        with _program(home, "type", "--resume", "--json") as program:
            assert program.stdout is not None
            again = json.loads(program.stdout.readline() or "{}")
            report.seconds.append(time.perf_counter() - began)
            report.hold(again.get("question") == asked, f"seed {seed}, replay {number}: asked {again.get('question')}")
    return report
