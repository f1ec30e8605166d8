"""Models, knowledge and the user's own small files spoilt under an open visit: refused in a sentence, or set aside.

When the file is put right, the visit goes on at the same question with all that was answered.
"""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from random import Random

from assistant.data import places, weights
from assistant.dialogue import facts as f
from assistant.errors import LaddersideError
from assistant.hearing.listening.late import LateEars
from assistant.library.loader import load
from assistant.visit.journal import Journal
from assistant.visit.paths import remembered
from assistant.visit.session import Knowledgeable, RealClock, Session
from tests.robust.attacks import spoil_bytes
from tests.robust.campaign.report import Report
from tests.robust.campaign.typing import line

_MODELS = (weights.WHISPER, weights.MOONSHINE, weights.PHONEME, weights.VOICE_ACTIVITY)


def under_a_visit(count: int, seed: int, folder: Path) -> Report:
    """So many spoilt files, one after the other, a visit going on between them."""
    report = Report("spoilt models, knowledge")
    chance = Random(seed)
    home = folder / "home"
    context = Knowledgeable(load(user=home))
    visit = ""
    LateEars().ensure()  # the real packages are loaded, whatever is put before them later
    with Journal(folder / "journal.sqlite") as journal:
        for number in range(count):
            session = (
                Session.resume(context, journal, visit)
                if visit
                else Session.begin(context, journal, RealClock(), "typed", datetime.now())
            )
            _ = session.reopen() if visit else session.open()
            for _ in range(chance.randint(0, 4)):
                if not session.closed:
                    session.type(line(session.expectation.question, chance))
            question, answers = session.expectation.question, _answers(journal, session.visit)
            visit = "" if session.closed else session.visit
            session.close()
            what = (_model, _knowledge, _own)[number % 3](chance, folder, report, f"seed {seed}, file {number}")
            report.tried += 1
            if not visit:
                continue
            began = time.perf_counter()
            again = Session.resume(context, journal, visit)
            again.reopen()
            report.seconds.append(time.perf_counter() - began)
            where = f"seed {seed}, file {number} ({what})"
            asked = again.expectation.question
            report.hold(asked == question, f"{where}: asks {asked}, not {question}")
            report.hold(_answers(journal, visit) == answers, f"{where}: the answers are not those from before")
            report.kept += len(answers)
            again.close()
    return report


def _answers(journal: Journal, visit: str) -> list[f.Fact]:
    facts = [item.fact for item in journal.facts(visit)]
    return [fact for fact in facts if isinstance(fact, f.AnswerGiven | f.Noted | f.IndicationNoted)]


def _refused(report: Report, where: str, what: str, work: Callable[[], object], must: bool = True) -> None:
    """Whether it is refused in one sentence that names the file."""
    try:
        work()
    except LaddersideError as error:
        told = str(error)
        report.hold("\n" not in told and what in told, f"{where}: {told[:200]}")
    except Exception as error:
        report.failures.append(f"{where}: {type(error).__name__}: {error}")
    else:
        report.hold(not must, f"{where}: {what} was taken")


def _model(chance: Random, folder: Path, report: Report, where: str) -> str:
    """One bit of one file of one model."""
    model = chance.choice(_MODELS)
    name = chance.choice(sorted(model.files))
    real = weights.folder_of(model) / name
    with _package(folder / "packages", model, name) as file:
        data = bytearray(real.read_bytes())
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        file.write_bytes(data)
        _refused(report, where, name, lambda: LateEars().ensure())
    LateEars().ensure()
    return f"{model.package} {name}"


@contextmanager
def _package(folder: Path, model: weights.Packaged, name: str) -> Iterator[Path]:
    """A package of that name found before the real one, all its files but ``name`` the real ones; gives its place."""
    real = weights.folder_of(model)
    package = folder / model.package.replace("-", "_")
    (package / model.place).mkdir(parents=True)
    (package / "__init__.py").touch()
    for each in set(model.files) - {name}:
        (package / model.place / each).symlink_to(real / each)
    loaded = sys.modules.pop(package.name, None)
    sys.path.insert(0, str(folder))
    try:
        yield package / model.place / name
    finally:
        sys.path.remove(str(folder))
        if loaded is not None:
            sys.modules[package.name] = loaded
        shutil.rmtree(folder)


def _knowledge(chance: Random, folder: Path, report: Report, where: str) -> str:
    """A file of the knowledge as a disk or a copy spoils it: what can be read may be a figure that is another one, so
    it is the installation that answers for those; what cannot be read is told with file and line."""
    copy = folder / "knowledge"
    shutil.copytree(places.data_folder("knowledge"), copy)
    try:
        file = chance.choice(sorted(copy.rglob("*.yaml")))
        file.write_bytes(spoil_bytes(file.read_bytes(), chance))
        _refused(report, where, "", lambda: load(copy, user=folder / "nobody"), must=False)
        return file.name
    finally:
        shutil.rmtree(copy)


def _own(chance: Random, folder: Path, report: Report, where: str) -> str:
    """The user's own profile or choices: set aside, and nothing else stops."""
    home = folder / "spoilt home"
    (home / "profiles").mkdir(parents=True)
    try:
        shipped = sorted((places.data_folder("knowledge") / "profiles").glob("*.yaml"))
        (home / "profiles" / "mine.yaml").write_bytes(spoil_bytes(chance.choice(shipped).read_bytes(), chance))
        (home / "choices.json").write_bytes(spoil_bytes(b'{"microphone": "headset"}', chance))
        try:
            library = load(user=home)
            report.hold({"copper-wren-solo", "lantern-hill-trio"} <= set(library.profiles), f"{where}: units are gone")
            with _home(home):
                remembered()
        except Exception as error:
            report.failures.append(f"{where}: {type(error).__name__}: {error}")
        return "own files"
    finally:
        shutil.rmtree(home)


@contextmanager
def _home(home: Path) -> Iterator[None]:
    import os

    before = os.environ.get("LADDERSIDE_HOME")
    os.environ["LADDERSIDE_HOME"] = str(home)
    try:
        yield
    finally:
        os.environ.pop("LADDERSIDE_HOME")
        if before is not None:
            os.environ["LADDERSIDE_HOME"] = before
