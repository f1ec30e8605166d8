"""Disks that are full or may not be written, and folders of somebody else: told in a sentence, and nothing is lost."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import subprocess
import sys
import sysconfig
import time
from collections.abc import Iterator
from pathlib import Path
from random import Random

from assistant.visit.reading import JournalReader
from tests.robust.campaign.report import Report
from tests.robust.campaign.typing import line

ROOT = Path(__file__).parents[3]
_NOBODY = 65534


def ladderside(home: Path, *words: str, input: str = "", user: int | None = None) -> subprocess.CompletedProcess[str]:
    """One command to its end, as ``user`` where one is given: by the system's Python, which everybody may run."""
    python = sys.executable if user is None else (shutil.which("python3", path="/usr/bin:/usr/local/bin") or "python3")
    return subprocess.run(
        [python, "-m", "assistant", *words],
        input=input,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env={
            **os.environ,
            "LADDERSIDE_HOME": str(home),
            "PYTHONDONTWRITEBYTECODE": "1",
            "PYTHONPATH": f"{ROOT}:{sysconfig.get_path('purelib')}",
        },
        timeout=300,
        user=user,
    )


@contextlib.contextmanager
def disk(folder: Path, size_kb: int) -> Iterator[Path | None]:
    """A disk of that size at ``folder``; None where none can be made."""
    folder.mkdir(parents=True, exist_ok=True)
    able = os.geteuid() == 0 and shutil.which("mount") is not None
    command = ["mount", "-t", "tmpfs", "-o", f"size={size_kb}k", "tmpfs", str(folder)]
    if not able or subprocess.run(command, capture_output=True).returncode:
        yield None
        return
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=False)


class Typed:
    """A typed visit under way."""

    def __init__(self, home: Path, *words: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "assistant", "type", "--json", *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
            env={**os.environ, "LADDERSIDE_HOME": str(home)},
        )
        self.first = self._turn()

    def _turn(self) -> dict[str, object]:
        assert self.process.stdout is not None
        turn: dict[str, object] = json.loads(self.process.stdout.readline() or "{}")
        return turn

    def say(self, words: str) -> dict[str, object]:
        """A line and what comes of it."""
        assert self.process.stdin is not None
        self.process.stdin.write(words + "\n")
        self.process.stdin.flush()
        return self._turn()

    def end(self) -> tuple[int, str]:
        """The end of input; exit status and what it complained of."""
        out, errors = self.process.communicate(timeout=120)
        return self.process.returncode, errors or out


def fill(folder: Path) -> Path:
    """Take all that is left of the disk; gives the file that holds it."""
    rest = folder / "rest"
    with rest.open("wb", buffering=0) as file:
        for size in (65536, 4096, 512, 1):
            with contextlib.suppress(OSError):
                while True:
                    file.write(bytes(size))
    return rest


def full(count: int, seed: int, folder: Path) -> Report:
    """A disk that is full after some turns, and has room again after some more."""
    report = Report("disk full")
    chance = Random(seed)
    for number in range(count):
        where = f"seed {seed}, disk {number}"
        with disk(folder / str(number), chance.choice([500, 700, 1500])) as place:
            if place is None:
                report.note = "not tried: no disk can be made here"
                return report
            report.tried += 1
            _fill_up(report, place, chance, where)
    return report


def _fill_up(report: Report, place: Path, chance: Random, where: str) -> None:
    home = place / "home"
    typed = Typed(home)
    question, acknowledged = str(typed.first.get("question")), 0
    for _ in range(chance.randint(0, 8)):
        turn = typed.say(line(question, chance))
        if "question" in turn:
            question, acknowledged = str(turn["question"]), acknowledged + 1
    rest = fill(place)
    troubled = 0
    for _ in range(80):
        turn = typed.say(line(question, chance))
        if "trouble" in turn:
            troubled += 1
            report.hold(bool(turn["says"]), f"{where}: the state of the energy was not said")
            if troubled > 2:
                break
        elif "question" in turn:
            question, acknowledged = str(turn["question"]), acknowledged + 1
        else:
            break
    report.hold(troubled > 0, f"{where}: a full disk was not noticed")
    visits = ladderside(home, "visits")
    report.hold(visits.returncode == 0, f"{where}: the list cannot be read: {visits.stderr}")
    rest.unlink()
    turn = typed.say("where am I")
    report.hold("question" in turn, f"{where}: it does not go on when there is room: {turn}")
    status, errors = typed.end()
    report.hold("Traceback" not in errors, f"{where}: {errors}")
    report.hold(status in (0, 2), f"{where}: exit {status}")
    with JournalReader(home / "journal.sqlite") as reader:
        report.hold(reader.notices == [], f"{where}: {reader.notices}")
        words = [item for item in reader.facts(reader.visits()[0].id) if item.fact.kind == "words-heard"]
        report.hold(len(words) >= acknowledged, f"{where}: {acknowledged} acknowledged, {len(words)} kept")
        report.kept += acknowledged
    began = time.perf_counter()
    again = Typed(home, "--resume")
    report.seconds.append(time.perf_counter() - began)
    asked = again.first.get("question")
    report.hold(asked == turn.get("question"), f"{where}: asks {asked} when it resumes, not {turn.get('question')}")
    again.end()


#: Commands that only look, and must work whatever may not be written.
_LOOKING = (
    *(["visits"], ["visits", "--json"], ["record", "--json"], ["library"]),
    *(["profile", "show"], ["profile", "check"], ["calculate"]),
)


def read_only(folder: Path) -> Report:
    """A data folder that may be read only: on a disk that is, and where the folder is somebody else's."""
    report = Report("read-only, foreign, gone")
    with disk(folder / "disk", 4000) as place:
        if place is not None:
            ladderside(place / "home", "type", input="mill lane\ncopper wren solo\n")
            _crashed(place / "home")
            subprocess.run(["mount", "-o", "remount,ro", str(place)], check=True)
            _look(report, place / "home", folder / "elsewhere", "a read-only disk", None)
    if _nobody_can_run(folder):
        home = folder / "foreign" / "home"
        ladderside(home, "type", input="mill lane\ncopper wren solo\n")
        for each in (*folder.parents[:-2], folder, home.parent, *home.parent.rglob("*")):
            each.chmod(0o755 if each.is_dir() else 0o644)
        _look(report, home, None, "a folder of somebody else", _NOBODY)
        home.chmod(0o700)
        for words in (["library"], ["profile", "show"], ["calculate"]):
            done = ladderside(home, *words, user=_NOBODY)
            report.tried += 1
            told = done.returncode == 0 or "it cannot be read (Permission denied)" in done.stdout
            report.hold(told, f"a folder that cannot be entered: {words}: {done.stderr}")
    else:
        report.note = "nobody cannot run Python here: foreign folders not tried"
    home = folder / "file"
    home.write_text("a file where a folder should be")
    _look(report, home, None, "a file for a folder", None)
    return report


def _nobody_can_run(folder: Path) -> bool:
    """Whether another user can be had here who may run this Python."""
    try:
        return os.geteuid() == 0 and ladderside(folder / "none", "--version", user=_NOBODY).returncode == 0
    except OSError:
        return False


def _crashed(home: Path) -> None:
    """Leave a visit as a crash does: its last turns in the write-ahead file."""
    typed = Typed(home, "--resume")
    typed.say("leaf lamp blinks slowly")
    typed.process.kill()
    typed.process.communicate()


def _look(report: Report, home: Path, elsewhere: Path | None, what: str, user: int | None) -> None:
    for words in _LOOKING:
        done = ladderside(home, *words, user=user)
        report.tried += 1
        nothing = words[0] == "record" and "There is no visit yet" in done.stderr
        report.hold(done.returncode == 0 or nothing, f"{what}: {words}: {done.stderr}")
    if elsewhere is not None:
        done = ladderside(home, "record", "--to", str(elsewhere))
        report.hold(
            done.returncode == 0 and (elsewhere / "record.html").exists(), f"{what}: record --to: {done.stderr}"
        )
    for words in (["type"], ["type", "--resume"], ["record"], ["backup", "--restore", str(home / "none")]):
        done = ladderside(home, *words, input="mill lane\n", user=user)
        report.tried += 1
        sentence = done.returncode == 2 and len(done.stderr.strip().splitlines()) <= 2
        report.hold(sentence and "Traceback" not in done.stderr, f"{what}: {words}: {done.returncode} {done.stderr}")
