"""Two programs on one visit: one has it, the other is told; and who was overtaken adds nothing."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from datetime import datetime
from pathlib import Path
from random import Random

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal
from assistant.visit.reading import JournalReader
from tests.robust.campaign.report import Report

ROOT = Path(__file__).parents[3]
#: Adds facts as fast as it can, each with what it has seen last; tells how many went in.
_RACER = """
import sys
from datetime import datetime
from pathlib import Path
from assistant.dialogue import facts as f
from assistant.visit.journal import Journal, Overtaken
journal, visit, mine = Journal(Path(sys.argv[1])), sys.argv[2], sys.argv[3]
seen, added = 0, 0
for number in range(int(sys.argv[4])):
    try:
        fact = f.Noted(topic="site", value=f"{mine} {seen}")
        seen = journal.append(visit, datetime(2026, 1, 1), 0.0, [fact], after=seen)
        added += 1
    except Overtaken:
        seen = journal.last_seq(visit)
print(added)
"""


def programs(count: int, seed: int, folder: Path) -> Report:
    """Several programs resume the same visit at the same time."""
    report = Report("several programs, one visit")
    home = folder / "home"
    environment = {**os.environ, "LADDERSIDE_HOME": str(home)}
    command = [sys.executable, "-m", "assistant", "type", "--json"]
    subprocess.run(command, input="mill lane\n", text=True, capture_output=True, cwd=ROOT, env=environment, check=True)
    chance = Random(seed)
    question = ""
    for number in range(count):
        began = time.perf_counter()
        several = [
            subprocess.Popen([*command, "--resume"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE, text=True, cwd=ROOT, env=environment)
            for _ in range(chance.randint(2, 3))
        ]  # fmt: skip
        first = []
        for program in several:
            assert program.stdout is not None
            first.append(program.stdout.readline())
        report.seconds.append(time.perf_counter() - began)
        taken = [line for line in first if '"question"' in line]
        asked = [str(json.loads(line)["question"]) for line in taken]
        question = question or asked[0]
        report.hold(set(asked) == {question}, f"seed {seed}, round {number}: asks {asked}, not {question}")
        report.tried += 1
        report.hold(len(taken) == 1, f"seed {seed}, round {number}: {len(taken)} programs have the visit")
        for program, line in zip(several, first, strict=True):
            _, errors = program.communicate(input="")
            if '"question"' not in line:
                told = program.returncode == 2 and "One visit has one writer" in errors and "process" in errors
                report.hold(told, f"seed {seed}, round {number}: {program.returncode} {errors}")
    return report


def races(rounds: int, folder: Path, each: int = 150) -> Report:
    """Without any lock, two that write as fast as they can: every fact follows the one that its writer had seen."""
    report = Report("races without a lock")
    for number in range(rounds):
        path = folder / f"{number}.sqlite"
        journal = Journal(path)
        visit = journal.open_visit(datetime(2026, 1, 1), "typed")
        racers = [
            subprocess.Popen([sys.executable, "-c", _RACER, path, visit, mine, str(each)], stdout=subprocess.PIPE,
                             text=True, cwd=ROOT)
            for mine in ("a", "b")
        ]  # fmt: skip
        added = [int(racer.communicate()[0]) for racer in racers]
        with JournalReader(path) as reader:
            facts = reader.facts(visit)
            seen = [int(item.fact.value.split()[1]) for item in facts if isinstance(item.fact, f.Noted)]
            report.hold(
                seen == list(range(len(seen))), f"round {number}: a fact does not follow what its writer had seen"
            )
            report.hold(len(facts) == sum(added), f"round {number}: {sum(added)} were added, {len(facts)} are there")
        report.tried += 2 * each
        report.kept += sum(added)
        journal.close()
    return report
