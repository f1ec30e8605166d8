"""Power cuts: the journal's writes are traced, and every state is made that a disk could be found in afterwards.

What was written before a file's last fsync is there. Of what came later any sector may be there or not, the last one
torn; a file that was made or removed since may be there or not. Every turn that was acknowledged must be in what is
then opened.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from random import Random

from assistant.dialogue import facts as f
from assistant.visit.journal import Journal
from assistant.visit.reading import JournalReader
from tests.robust.campaign.report import Report

ROOT = Path(__file__).parents[3]
_SECTOR = 512
_CALLS = "openat,pwrite64,write,fsync,fdatasync,ftruncate,unlink,unlinkat,rename,renameat,renameat2,link,linkat,lseek"
_WRITER = """
import sys
from datetime import datetime
from pathlib import Path
from assistant.dialogue import facts as f
from assistant.visit.journal import Journal
journal = Journal(Path(sys.argv[1]))
visit = journal.open_visit(datetime(2026, 1, 1), "typed")
for turn in range(int(sys.argv[2])):
    words = "w" * (turn * 397 % 9000)
    facts = [f.Noted(topic="site", value=str(turn), words=words), f.Said(text=str(turn), about="remark")]
    journal.append(visit, datetime(2026, 1, 1), turn, facts)
    sys.stdout.write(f"turn {turn}\\n")
    sys.stdout.flush()
journal.close()
"""


@dataclass
class Disk:
    """Files as they surely are, and what was done to each since it was last forced to the disk."""

    sure: dict[str, bytes] = field(default_factory=dict)
    later: dict[str, list[tuple[str, int, bytes]]] = field(default_factory=dict)
    now: dict[str, bytearray] = field(default_factory=dict)

    def write(self, name: str, at: int, data: bytes) -> None:
        """Some bytes, in the memory of the machine only."""
        held = self.now.setdefault(name, bytearray())
        if len(held) < at:
            held.extend(bytes(at - len(held)))
        held[at : at + len(data)] = data
        self.later.setdefault(name, []).append(("write", at, data))

    def truncate(self, name: str, size: int) -> None:
        """Shorter, or longer by zeros."""
        held = self.now.setdefault(name, bytearray())
        del held[size:]
        held.extend(bytes(size - len(held)))
        self.later.setdefault(name, []).append(("truncate", size, b""))

    def force(self, name: str) -> None:
        """Everything of this file is on the disk."""
        if name in self.now:
            self.sure[name] = bytes(self.now[name])
        self.later.pop(name, None)

    def rename(self, name: str, other: str, keep: bool = False) -> None:
        """Another name; its content goes with it. Names are taken to be on the disk at once: SQLite forces folders."""
        self.force(name)
        self.sure[other] = bytes(self.now[name])
        self.now[other] = bytearray(self.now[name])
        if not keep:
            self.remove(name)

    def remove(self, name: str) -> None:
        """Gone, or after a cut perhaps not yet."""
        self.now.pop(name, None)
        self.sure.pop(name, None)
        self.later.pop(name, None)

    def after_a_cut(self, chance: Random) -> dict[str, bytes]:
        """One of the states that may be found."""
        found = {}
        for name in set(self.sure) | set(self.later):
            content = bytearray(self.sure.get(name, b""))
            for what, at, data in self.later.get(name, ()):
                if what == "truncate":
                    if chance.random() < 0.5:
                        del content[at:]
                        content.extend(bytes(at - len(content)))
                    continue
                for start in range(0, len(data), _SECTOR):
                    if chance.random() < 0.5:
                        piece = data[start : start + _SECTOR]
                        if chance.random() < 0.02:
                            piece = piece[: chance.randrange(len(piece) + 1)]  # torn
                        if len(content) < at + start:
                            content.extend(bytes(at + start - len(content)))
                        content[at + start : at + start + len(piece)] = piece
            if name in self.sure or content or chance.random() < 0.5:
                found[name] = bytes(content)
        return found


def cuts(count: int, seed: int, folder: Path, turns: int = 25, lying: bool = False) -> Report:
    """So many cuts at random points of a visit that is written. ``lying``: on a disk that only says that it has it."""
    report = Report("power cuts")
    if shutil.which("strace") is None:
        report.note = "not tried: strace is missing"
        return report
    trace = _traced(folder, turns)
    steps = list(_steps(trace, folder / "written"))
    report.hold(sum(step[0] == "turn" for step in steps) == turns, "the trace does not hold every turn")
    chance = Random(seed)
    points = sorted(chance.choices(range(1, len(steps) + 1), k=count))
    disk, done, acknowledged = Disk(), 0, -1
    for number, point in enumerate(points):
        for step in steps[done:point]:
            if lying and step[0] == "force":
                continue
            acknowledged = _do(disk, step, acknowledged)
        done = point
        report.tried += 1
        report.kept += acknowledged + 1
        _look(report, disk.after_a_cut(chance), acknowledged, folder / "found", f"seed {seed}, cut {number}")
    return report


def _traced(folder: Path, turns: int) -> Path:
    out = folder / "trace"
    (folder / "written").mkdir(parents=True, exist_ok=True)
    subprocess.run(
        ["strace", "-f", "-y", "-xx", "-s", "1000000", "-e", f"trace={_CALLS}", "-o", out,
         sys.executable, "-c", _WRITER, folder / "written" / "journal.sqlite", str(turns)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    return out


def _text(hexed: str) -> bytes:
    return bytes.fromhex(hexed.replace("\\x", ""))


_LINE = re.compile(r"^\d+\s+(\w+)\((.*)\)\s+=\s+(-?\d+)")
_FD = re.compile(r"^(\d+)<((?:\\x[0-9a-f]{2})*)>")
_STRING = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')

Step = tuple[str, str, int, bytes]


def _steps(trace: Path, folder: Path) -> Iterator[Step]:
    """What was done to the files in ``folder``, and each turn that was acknowledged, in order."""
    places: dict[tuple[str, str], int] = {}
    for told in trace.read_text(encoding="ascii", errors="replace").splitlines():
        match = _LINE.match(told)
        if match is None or int(match[3]) < 0:
            continue
        call, given = match[1], match[2]
        fd = _FD.match(given)
        name = Path(_text(fd[2]).decode(errors="replace")) if fd else Path()
        if call == "write" and fd and fd[1] == "1":
            said = _text(_STRING.findall(given)[0])
            if said.startswith(b"turn "):
                yield "turn", "", int(said.split()[1]), b""
        elif call in ("unlink", "unlinkat", "rename", "renameat", "renameat2", "link", "linkat"):
            names = [Path(_text(each).decode()) for each in _STRING.findall(given)]
            inside = [each.name for each in names if each.parent == folder]
            if inside and call.startswith("unlink"):
                yield "remove", inside[0], 0, b""
            elif len(inside) == 2:
                yield call[:4].replace("rena", "move"), inside[0], 0, inside[1].encode()
        elif name.parent != folder or name.name.endswith(("-shm", ".lock")):
            continue
        elif call == "pwrite64":
            yield "write", name.name, int(given.rsplit(",", 1)[1]), _text(_STRING.findall(given)[0])
        elif call == "write":
            data = _text(_STRING.findall(given)[0])
            at = places.get((fd[1] if fd else "", name.name), 0)
            places[fd[1] if fd else "", name.name] = at + len(data)
            yield "write", name.name, at, data
        elif call == "ftruncate":
            yield "truncate", name.name, int(given.rsplit(",", 1)[1]), b""
        elif call in ("fsync", "fdatasync"):
            yield "force", name.name, 0, b""


def _do(disk: Disk, step: Step, acknowledged: int) -> int:
    what, name, number, data = step
    match what:
        case "turn":
            return number
        case "write":
            disk.write(name, number, data)
        case "truncate":
            disk.truncate(name, number)
        case "force":
            disk.force(name)
        case "remove":
            disk.remove(name)
        case "move" | "link":
            disk.rename(name, data.decode(), keep=what == "link")
    return acknowledged


def _look(report: Report, found: dict[str, bytes], acknowledged: int, folder: Path, where: str) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for name, content in found.items():
        (folder / name).write_bytes(content)
    path = folder / "journal.sqlite"
    try:
        with JournalReader(path) as reader:
            read = _turns(reader)
        began = time.perf_counter()
        with Journal(path) as journal:
            report.seconds.append(time.perf_counter() - began)
            kept = _turns(journal)
            notices = journal.notices
            journal.append(
                journal.open_visit(datetime(2027, 1, 1), "typed"), datetime(2027, 1, 1), 0.0, [f.Held(by="x")]
            )
    except Exception as error:
        report.failures.append(f"{where}: {type(error).__name__}: {error}")
        return
    report.hold(kept[: acknowledged + 1] == list(range(acknowledged + 1)), f"{where}: kept {kept}, not {acknowledged}")
    report.hold(read == kept, f"{where}: read {read}, then kept {kept}")
    report.hold(notices == [], f"{where}: {notices}")


def _turns(reader: JournalReader) -> list[int]:
    """The turns that are there; one that is there by half is told by -1."""
    for row in reader.visits():
        if row.id.startswith("2026"):
            facts = [item.fact for item in reader.facts(row.id)]
            whole = [int(fact.value) for fact in facts if isinstance(fact, f.Noted)]
            return whole if len(facts) == 2 * len(whole) else [-1]
    return []
