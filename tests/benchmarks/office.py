"""How long the office's export and its questions take: ``python -m tests.benchmarks.office [VISITS]`` (100,000).

A made-up fleet's journal is written first (not counted), then exported to Parquet and into SQLite by as many processes
as there are cores, exported again, and every question is asked. Prints seconds on the clock and of all processors
together (on a machine that others use too, the second tells more); asserts nothing. With a folder and steps
(``100000 /tmp/fleet fill``, then ``parquet``, ``sqlite``, ``ask``) the work is kept there and done in pieces.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from assistant.library.loader import load
from assistant.office import database, parquet
from assistant.office.insights import QUESTIONS, Visits
from tests.office.fleet import fill


@contextmanager
def timed(what: str) -> Iterator[None]:
    began, used = time.perf_counter(), sum(os.times()[:4])
    yield
    print(
        f"{what:<42} {time.perf_counter() - began:8.2f} s {sum(os.times()[:4]) - used:8.2f} s of processors", flush=True
    )


STEPS = ("fill", "parquet", "sqlite", "ask")


def run(visits: int, folder: Path, steps: Sequence[str]) -> None:
    """Fill, export, ask."""
    quiet: Callable[[int, int], None] = lambda done, of: None  # noqa: E731
    journal = folder / "journal.sqlite"
    if "fill" in steps:
        with timed(f"{visits} visits made up (not counted)"):
            fill(journal, load(), visits)
        print(f"journal: {journal.stat().st_size / 1e6:.0f} MB")
    if "parquet" in steps:
        for again in ("", " again"):
            with timed(f"exported to Parquet{again}"):
                parquet.write(folder / "pq", journal, "bench", quiet)
    if "sqlite" in steps:
        engine = database.opened(f"sqlite:///{folder}/office.sqlite")
        for again in ("", " again"):
            with timed(f"exported to SQLite{again}"):
                database.write(engine, journal, "bench", quiet)
    if "ask" in steps:
        with timed("Parquet opened"):
            asked = Visits(folder / "pq")
        for question in QUESTIONS:
            with timed(f"{question.name} asked"):
                rows = asked.ask(question.name).rows
            print(f"{'':<50} {len(rows):8} rows")


if __name__ == "__main__":
    many = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as name:
        where = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(name)
        where.mkdir(parents=True, exist_ok=True)
        run(many, where, sys.argv[3:] or STEPS)
