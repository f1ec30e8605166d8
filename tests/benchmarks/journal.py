"""How long the journal takes with thousands of visits: ``python -m tests.benchmarks.journal [VISITS]``.

Each visit has the facts of a real one (``tests/visit/journals``). Prints seconds; asserts nothing.
"""

from __future__ import annotations

import gzip
import sqlite3
import subprocess
import sys
import tempfile
import time
from datetime import datetime, timedelta
from pathlib import Path

from assistant.visit.journal import Journal, JournalReader
from assistant.visit.schema import mark
from assistant.visit.standing import Standing

SAMPLE = sorted((Path(__file__).parents[1] / "visit" / "journals").glob("*.gz"))[-1]


def fill(path: Path, visits: int, facts: int) -> None:
    """That many visits of so many facts, written as the journal writes them."""
    sample = sqlite3.connect(":memory:")
    sample.deserialize(gzip.decompress(SAMPLE.read_bytes()))
    rows = sample.execute("select seq, at, at_s, kind, body from fact order by seq limit ?", (facts,)).fetchall()
    Journal(path).close()
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("begin")
    stands = _standing(rows)
    for number in range(visits):
        at = datetime(2026, 1, 1) + timedelta(hours=number)
        visit = f"{at:%Y-%m-%d}-{number % 24 + 1}"
        db.execute("insert into visit values (?, ?, 'typed')", (visit, at.isoformat()))
        marked = [(visit, *row, mark(visit, *row)) for row in rows]
        db.executemany("insert into fact values (?, ?, ?, ?, ?, ?, ?)", marked)
        newest = db.execute("select max(rowid) from fact").fetchone()[0]
        body = stands.model_copy(update={"site": f"site {number}"}).model_dump_json()
        db.execute("insert into standing (visit, newest, facts, closed, body) values (?, ?, ?, 0, ?)",
                   (visit, newest, len(rows), body))  # fmt: skip
    db.execute("commit")
    db.close()


def _standing(rows: list[tuple[int, str, float, str, str]]) -> Standing:
    """What a visit of these facts keeps for the list: up to forty readings among it."""
    from assistant.dialogue.evolve import fold
    from assistant.dialogue.facts import FACT
    from assistant.library.loader import load
    from assistant.visit.standing import standing

    return standing(fold(FACT.validate_json(body) for *_, body in rows), load())


def timed(name: str, work) -> None:
    times = []
    for _ in range(5):
        began = time.perf_counter()
        work()
        times.append(time.perf_counter() - began)
    print(f"{name:52} {min(times):8.3f} s (of five; slowest {max(times):.3f})")


def main() -> None:
    visits = int(sys.argv[1]) if len(sys.argv) > 1 else 5000
    facts = int(sys.argv[2]) if len(sys.argv) > 2 else 300
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.sqlite"
        fill(path, visits, facts)
        print(f"{visits} visits of {facts} facts, {path.stat().st_size / 1e6:.0f} MB")
        visit = JournalReader(path).visits()[visits // 2].id
        timed("open to read and list all", lambda: JournalReader(path).visits())
        timed("open to write and list all", lambda: Journal(path).visits())
        timed("open to read and read one visit", lambda: JournalReader(path).facts(visit))
        timed("open to read and find the latest open", lambda: JournalReader(path).latest(closed=False))
        journal = Journal(path)
        now = datetime(2027, 1, 1)
        new = journal.open_visit(now, "typed")
        timed("append a turn", lambda: journal.append(new, now, 0.0, [item.fact for item in journal.facts(visit)[:5]]))
        import os

        environment = {**os.environ, "LADDERSIDE_HOME": folder}
        for words in (["visits"], ["record", visit, "--json"], ["backup", f"{folder}/copy.sqlite"]):
            command = [sys.executable, "-m", "assistant", *words]
            timed(
                f"the whole command {words[0]}",
                lambda command=command: subprocess.run(command, capture_output=True, check=True, env=environment),
            )


if __name__ == "__main__":
    main()
