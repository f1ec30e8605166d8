"""A made-up fleet: journals of many visits, for tests and for the benchmark. Some templates, each told many times."""

from __future__ import annotations

import sqlite3
from datetime import datetime, timedelta
from pathlib import Path
from random import Random

from assistant.library.loader import Library
from assistant.visit import chain
from assistant.visit.journal import Journal
from assistant.visit.schema import mark
from tests.record.material import Told, job_visit

SITES = ("the bakery", "the mill", "Harbour School", "the town hall", "the tannery")


def templates(library: Library) -> list[Told]:
    """Visits that end differently."""
    made = [job_visit(library)]
    for symptom, check, answers, suspect in (
        ("lights-dim", "supply-volts", {"voltage": 184.0}, "supply-connection-loose"),
        ("compressor-never-starts", "winding-resistance",
         {"resistances": {"u-v": 0.8, "v-w": 1.4, "w-u": 1.4}, "meter": "low-ohm"}, "compressor-winding"),
        ("sensor-indication", "room-sensor-resistance",
         {"temperature": 21.0, "resistance": 4.0}, "room-sensor-drifted"),
    ):  # fmt: skip
        suspect = suspect if suspect in library.suspects else next(iter(library.suspects))
        told = Told(library, profile="lantern-hill-trio" if suspect.startswith("room") else "copper-wren-solo")
        told.arrive(symptom=symptom).check(check, **answers).name(suspect).mend(suspect, "made good").prove().close()
        made.append(told)
    made.append(Told(library).arrive().check("supply-volts", voltage=230.0).close(outcome="nothing found"))
    return made


def fill(path: Path, library: Library, visits: int, seed: int = 1) -> None:
    """``visits`` visits at a handful of sites, two a day, as the journal writes them; in one transaction."""
    rng = Random(seed)
    kinds = [[(fact.kind, fact.model_dump_json()) for _, fact in told.facts] for told in templates(library)]
    Journal(path).close()
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("pragma foreign_keys = off")
    db.execute("begin")
    for number in range(visits):
        at = datetime(2020, 1, 1, 8) + timedelta(hours=number)
        visit = f"{at:%Y-%m-%d}-{at.hour + 1}"
        db.execute("insert into visit values (?, ?, 'typed')", (visit, at.isoformat()))
        before, site = chain.first(visit, at.isoformat(), "typed"), rng.choice(SITES)
        facts, links = [], []
        for seq, (kind, body) in enumerate(rng.choice(kinds), start=1):
            moment = (at + timedelta(seconds=30 * seq)).isoformat()
            body = body.replace("the bakery in Mill Lane", site)
            row = (seq, moment, 30.0 * seq, kind, body)
            before = chain.link(before, visit, row)
            facts.append((visit, *row, mark(visit, *row)))
            links.append((visit, seq, before))
        db.executemany("insert into fact values (?, ?, ?, ?, ?, ?, ?)", facts)
        db.executemany("insert into chain values (?, ?, ?)", links)
        newest = db.execute("select max(rowid) from fact").fetchone()[0]
        db.execute(
            "insert into standing (visit, newest, facts, closed) values (?, ?, ?, 1)", (visit, newest, len(facts))
        )
    db.execute("commit")
    db.close()
