"""Inputs that somebody or something has spoilt, one for each kind and seed, and what takes them.

Every attack may end well or in one clear sentence (a LaddersideError); anything else is a find. ``tests/robust`` runs
a few hundred, ``python -m tests.campaign fuzz`` as many as you like.
"""

from __future__ import annotations

import contextlib
import csv
import io
import json
import re
import shutil
import signal
import string
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import soundfile as sf
import yaml

from assistant.devices import quiet_stderr
from assistant.errors import LaddersideError
from assistant.hearing.ears.protocol import Hypothesis

ROOT = Path(__file__).parents[2]
#: No input may take longer to take or to refuse, seconds of the processor: the machine may have other work too.
SLOWEST_S = 2.0
#: What has not come back after so long hangs, seconds by the clock.
_HANGS_S = 60

#: Signs that have broken programs: controls, right to left, joiners, half pairs, digits of other scripts, emoji.
_NASTY = "\x00\x07\x1b\x7f\x9b\u200b\u200d\u202e\u2066\ufeff\ufffd\ud800٣५Ⅷ½²₂Ωµ°🔧\U0010ffff\r\n\t\u2028"


@dataclass
class Find:
    """An input that was taken badly."""

    kind: str
    seed: int
    what: str
    shown: str


@dataclass
class Outcome:
    """What a number of attacks of one kind came to."""

    kind: str
    tried: int = 0
    refused: int = 0
    finds: list[Find] = field(default_factory=list)
    slowest_s: float = 0.0


def attack(kind: str, seeds: range, patience_s: float = SLOWEST_S) -> Outcome:
    """Try one spoilt input for each seed."""
    outcome = Outcome(kind)
    # libmpg123 writes a page of its own for each spoilt MP3.
    with TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()), quiet_stderr():
        target = TARGETS[kind](Path(folder))
        for seed in seeds:
            shown, took_s, what = _one(target, seed, outcome)
            outcome.tried += 1
            outcome.slowest_s = max(outcome.slowest_s, took_s)
            if not what and took_s > patience_s:
                what = f"took {took_s:.1f} s"
            if what:
                outcome.finds.append(Find(kind, seed, what, shown[:300]))
    return outcome


def _one(target: Callable[[Random], tuple[Any, Callable[[], object]]], seed: int, outcome: Outcome
         ) -> tuple[str, float, str]:  # fmt: skip
    given, take = target(Random(seed))
    began = time.process_time()
    try:
        with contextlib.redirect_stderr(io.StringIO()), _ended_after(_HANGS_S):
            take()
    except LaddersideError as error:
        outcome.refused += 1
        text = str(error)
        what = "" if text and "\n" not in text and len(text) < 2000 else f"no sentence: {text[:200]!r}"
    except SystemExit as end:
        what = "" if end.code in (0, 2) else f"exit {end.code}"
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt):
            raise
        what = f"{type(error).__name__}: {error}"[:300]
    else:
        what = ""
    return repr(given), time.process_time() - began, what


class Hangs(BaseException):
    """It does not come back."""


@contextlib.contextmanager
def _ended_after(seconds: int) -> Iterator[None]:
    """Hangs when what is done here takes longer by the clock; in the main thread only, where signals come."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return

    def end(number: int, frame: object) -> None:
        raise Hangs(f"no answer after {seconds} s")

    before = signal.signal(signal.SIGALRM, end)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


# -- ways to spoil -----------------------------------------------------------------------------------------------------


def spoil_text(text: str, chance: Random) -> str:
    """Text with some of what people, editors and accidents do to it."""
    for _ in range(chance.randint(1, 4)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.randint(1, 30))
        match chance.randrange(10):
            case 0:
                text = text[:at] + text[to:]
            case 1:
                text = text[:at] + chance.choice(_NASTY) * chance.randint(1, 3) + text[at:]
            case 2:
                text = text[:at] + text[at:to] * chance.randint(2, 5) + text[to:]
            case 3:
                text = text[:at] + "".join(chance.choices(string.printable, k=chance.randint(1, 20))) + text[to:]
            case 4:
                text = text[:at]
            case 5:
                text = text[:at] + str(number(chance)) + text[to:]
            case 6:
                text = text.replace(
                    chance.choice(":,-{}[]\"'#|&*!%"), chance.choice(":,-{}[]\"'#|&*!%"), chance.randint(1, 3)
                )
            case 7:
                lines = text.splitlines(keepends=True)
                chance.shuffle(lines)
                text = "".join(lines)
            case 8:
                text = text.replace("\n", chance.choice(["\r\n", "\r", "\n\n", "\n\t"]))
            case 9:
                text = (
                    text[:at]
                    + chance.choice(["[" * 600, "{a: " * 600, "- " * 600, "&a [*a]", "!!python/name:os.system"])
                    + text[at:]
                )
    return text


_NUMBERS: tuple[object, ...] = (
    *(0, -0.0, -1, 1e308, -1e308, 1e-320, 2**63, 10**400, True, None, [], {}),
    *(
        "nan",
        ".nan",
        "inf",
        "-inf",
        "1e999",
        "0x10",
        "1_000",
        "٣",
        "1,5",
        "+",
        "",
        "1e",
        "9" * 5000,
        "true",
        "null",
        "~",
    ),
)


def number(chance: Random) -> object:
    """A number that has broken programs, or its spelling."""
    return chance.choice([*_NUMBERS, chance.uniform(-1e6, 1e6), chance.randint(-9, 9)])


def spoil_bytes(data: bytes, chance: Random) -> bytes:
    """Bytes with some of what disks and copies do to them."""
    out = bytearray(data)
    for _ in range(chance.randint(1, 5)):
        at = chance.randrange(len(out) + 1)
        match chance.randrange(7):
            case 0 if out:
                out[at % len(out)] ^= 1 << chance.randrange(8)
            case 1:
                del out[at:]
            case 2:
                out[at : at + chance.randint(1, 64)] = chance.randbytes(chance.randint(0, 64))
            case 3:
                out[at:at] = bytes(chance.randint(1, 5000))
            case 4:
                del out[at : at + chance.randint(1, 5000)]
            case 5:
                out[: min(64, len(out))] = chance.randbytes(min(64, len(out)))
            case _:
                out = bytearray(chance.randbytes(chance.randint(0, 3000)))
    return bytes(out)


def spoil_data(data: Any, chance: Random) -> Any:
    """A value inside replaced by one that has no business there."""
    if isinstance(data, dict) and data and chance.random() < 0.9:
        key = chance.choice(list(data))
        if chance.random() < 0.1:
            return {**data, chance.choice(["", "x", "id", key + "x"]): number(chance)}
        return {**data, key: spoil_data(data[key], chance)}
    if isinstance(data, list) and data and chance.random() < 0.9:
        at = chance.randrange(len(data))
        return [*data[:at], spoil_data(data[at], chance), *data[at + (chance.random() < 0.9) :]]
    return chance.choice([number(chance), "x" * 10_000, _NASTY, None, True, [], {}, [[]] * 50])


_SAID = re.split(
    "/",
    "twelve/volts/point/one/oh/yes/no/done/wait/carry on/stop/correction/minus/U to V/kilohms/4.7/1e5/why/skip/finish/"
    "understood/degrees/p/ladder/half/and/a/code/superheat/suction/repeat/trips/thousand/million/%/no profile/"
    "copper wren solo/open line/check the fan/is it safe/go back/mill lane",
)


def words(chance: Random) -> str:
    """A line that somebody may type or an ear may write."""
    match chance.randrange(12):
        case 0:
            return "".join(chance.choices(string.printable + _NASTY, k=chance.randint(0, 300)))
        case 1:
            return " ".join(chance.choices(_SAID, k=chance.randint(100, 3000)))
        case 2:
            return chance.choice(["a", "9", "one ", "point ", "\x00", "Ω", "-", "((", "…"]) * chance.randint(
                1000, 1_000_000
            )
        case 3:
            return spoil_text(" ".join(chance.choices(_SAID, k=8)), chance)
        case _:
            return " ".join(chance.choices(_SAID, k=chance.randint(1, 12)))


# -- what takes them ---------------------------------------------------------------------------------------------------

Target = Callable[[Random], tuple[Any, Callable[[], object]]]


def _sounds(folder: Path) -> Target:
    from assistant.hearing.sound.files import load

    rate = 16_000
    tone = (0.3 * np.sin(np.arange(rate // 2) / 5)).astype(np.float32)
    whole: dict[str, bytes] = {}
    for ending, subtype in (
        ("wav", "PCM_16"),
        ("wav", "FLOAT"),
        ("flac", "PCM_16"),
        ("ogg", "VORBIS"),
        ("aiff", "PCM_24"),
        ("au", "ULAW"),
        ("w64", "PCM_16"),
        ("caf", "PCM_16"),
        ("mp3", "MPEG_LAYER_III"),
    ):
        file = folder / f"whole-{subtype}.{ending}"
        with contextlib.suppress(sf.LibsndfileError, TypeError, ValueError):
            sf.write(file, tone, rate, subtype=subtype)
            whole[file.name] = file.read_bytes()

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        name = chance.choice(sorted(whole))
        ending = chance.choice(
            [name, name, name, "x.raw", "x.RAW", "x.wav", "x.pcm", "x.flac", "x.sd2", "x.", "x.mp3", "x.txt"]
        )
        file = folder / f"spoilt{Path(ending).suffix}"
        file.write_bytes(spoil_bytes(whole[name], chance))
        return (name, file.name), lambda: load(file)

    return spoilt


def _yaml_files(folder: Path, kind: type, sources: list[Path]) -> Target:
    from assistant.library.loader import read_as

    texts = [source.read_text(encoding="utf-8") for source in sources]
    plain = {text: yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)) for text in texts}
    dumper = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
    file = folder / "spoilt.yaml"

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        text = chance.choice(texts)
        if chance.random() < 0.4:
            data = spoil_data(plain[text], chance)
            with contextlib.suppress(yaml.YAMLError, ValueError):
                text = yaml.dump(data, Dumper=dumper, allow_unicode=True)
        else:
            text = spoil_text(text, chance)
        data_ = text.encode("utf-8", "surrogatepass")
        file.write_bytes(spoil_bytes(data_, chance) if chance.random() < 0.1 else data_)
        return text[:200], lambda: read_as(kind, file)

    return spoilt


def _profiles(folder: Path) -> Target:
    from assistant.library.profile import UnitProfile

    return _yaml_files(folder, UnitProfile, sorted((ROOT / "knowledge" / "profiles").glob("*.yaml")))


def _own_profiles(folder: Path) -> Target:
    """All of it loaded, with a spoilt profile of one's own: that must stop nothing at all."""
    from assistant.library.loader import load

    make = _profiles(folder)
    own = folder / "profiles"
    own.mkdir()

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        given, _ = make(chance)
        shutil.copyfile(folder / "spoilt.yaml", own / "mine (copy).yaml")

        def take() -> None:
            try:
                library = load(user=folder)
            except LaddersideError as error:
                raise AssertionError(f"it stopped everything: {error}") from None
            assert {"copper-wren-solo", "lantern-hill-trio"} <= set(library.profiles)

        return given, take

    return spoilt


def _knowledge(folder: Path) -> Target:
    from assistant.library.models import FaultFile

    return _yaml_files(folder, FaultFile, sorted((ROOT / "knowledge" / "faults").glob("*.yaml"))[:4])


def _scripts(folder: Path) -> Target:
    from assistant.visit.recording import load_script

    texts = [file.read_text(encoding="utf-8") for file in sorted((ROOT / "recordings_synthetic").glob("*/script.yaml"))]

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        text = spoil_text(chance.choice(texts), chance)
        (folder / "script.yaml").write_bytes(text.encode("utf-8", "surrogatepass"))
        return text[:200], lambda: load_script(folder)

    return spoilt


def _transcripts(folder: Path) -> Target:
    from assistant.measuring.hearing import read_set

    sf.write(folder / "one.flac", np.zeros(1600), 16_000)
    rows = io.StringIO()
    table = csv.writer(rows)
    table.writerow(("file", "speaker", "kind", "text"))
    for kind in ("number", "command", "pressure", "none-talk"):
        table.writerow(("one.flac", "ada", kind, "twelve point five"))
    expectations = json.dumps({"pressure": {"question": "q", "topic": "t"}})

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        files = {"transcripts.csv": rows.getvalue(), "expectations.json": expectations}
        for name, text in files.items():
            data = text.encode()
            if chance.random() < 0.7:
                data = spoil_text(text, chance).encode("utf-8", "surrogatepass")
            if chance.random() < 0.3:
                data = spoil_bytes(data, chance)
            (folder / name).write_bytes(data)
        return files, lambda: read_set(folder)

    return spoilt


def _draft(folder: Path) -> Target:
    """The half-made profile and the chosen devices, as JSON."""
    import os

    from assistant.library.loader import load
    from assistant.profiling.draft import Draft
    from assistant.visit.paths import remembered

    library = load(user=folder / "nobody")
    given = [["make", "Willow"], ["model", "Duo"], ["said", None], ["supply", "single-phase-230"], ["charge", 1.0]]

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        text = json.dumps(spoil_data(given, chance)) if chance.random() < 0.5 else spoil_text(json.dumps(given), chance)
        data = text.encode("utf-8", "surrogatepass")
        home = folder / "home"
        home.mkdir(exist_ok=True)
        for name in ("profile-draft.json", "choices.json"):
            (home / name).write_bytes(data)

        def take() -> None:
            before = os.environ.get("LADDERSIDE_HOME")
            os.environ["LADDERSIDE_HOME"] = str(home)
            try:
                remembered()
                draft = Draft.begin(library)
                draft.say("skip")
                draft.say("twelve")
            finally:
                os.environ.pop("LADDERSIDE_HOME")
                if before is not None:
                    os.environ["LADDERSIDE_HOME"] = before

        return text[:200], take

    return spoilt


def _arguments(folder: Path) -> Target:
    from assistant.calculations.catalogue import CATALOGUE
    from assistant.commands import main

    values = [
        "1",
        "-1",
        "nan",
        "inf",
        "1e999",
        "12V",
        "4.2kohm",
        "0C:27kohm,25C:10kohm",
        "OL",
        "R32",
        "x",
        "",
        "=",
        "٣ V",
    ]

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        given = ["calculate"]
        if chance.random() < 0.8:
            calculation = chance.choice(list(CATALOGUE.values()))
            given.append(calculation.name)
            for parameter in calculation.parameters:
                if chance.random() < 0.8:
                    given.append(f"{parameter.name}={chance.choice([*values, str(number(chance))])}")
        else:
            given = chance.choices(
                [*main.COMMANDS, "--json", "--site", "--resume", "-1", "", "--", "@x", *values], k=chance.randint(0, 5)
            )
            if given[:1] and given[0] in (
                "visit",
                "ears",
                "replay",
                "type",
                "profile",
                "library",
                "measure_hearing",
                "backup",
            ):
                given = ["--version", *given]

        def take() -> None:
            args = main.parser().parse_args(given)
            args.func(args)

        return given, take

    return spoilt


def _typed(folder: Path) -> Target:
    """Lines into one visit after another, each visit as far as the lines lead it."""
    from datetime import datetime

    from assistant.library.loader import load
    from assistant.visit.journal import Journal
    from assistant.visit.session import Knowledgeable, RealClock, Session

    context = Knowledgeable(load(user=folder / "nobody"))
    journal = Journal(folder / "journal.sqlite")
    sessions: list[Session] = []
    lead = ["mill lane", "copper wren solo", "leaf lamp blinks slowly"]

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        if not sessions or sessions[0].closed or chance.random() < 0.05:
            for session in sessions:
                session.close()
            sessions[:] = [Session.begin(context, journal, RealClock(), "typed", datetime(2026, 1, 1))]
            sessions[0].open()
            for line in lead[: chance.randint(0, 3)]:
                sessions[0].type(line)
        line = words(chance)
        question = sessions[0].expectation.question
        return (question, line[:200]), lambda: sessions[0].type(line)

    return spoilt


class _Writes:
    """An ear that writes what it is told, whatever it hears; it can be asked how likely it finds other words."""

    def __init__(self, name: str) -> None:
        self.name, self.heard = name, tuple[Hypothesis, ...]()

    def prepare(self, grammar: object) -> None:
        """It knows no grammar."""

    def hear(self, audio: object) -> tuple[Hypothesis, ...]:
        """What it was told to."""
        return self.heard


def _heard(folder: Path) -> Target:
    """What ears may write, beside what the phoneme ear really finds in a second of noise; judged, then answered."""
    from datetime import datetime

    from assistant.hearing.ears.phoneme import PhonemeEar
    from assistant.hearing.listening.together import EarsTogether
    from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
    from assistant.library.loader import load
    from assistant.visit.journal import Journal
    from assistant.visit.session import Knowledgeable, RealClock, Session

    phoneme, slow, quick = PhonemeEar(), _Writes("slow"), _Writes("quick")
    noise = (0.05 * np.random.default_rng(1).standard_normal(SAMPLE_RATE)).astype(np.float32)
    sounds = phoneme.listen(noise)
    phoneme.listen = lambda audio: sounds  # type: ignore[method-assign]
    ears = EarsTogether(phoneme, slow, quick)
    context = Knowledgeable(load(user=folder / "nobody"))
    journal = Journal(folder / "journal.sqlite")
    leads = ((), ("mill lane",), ("mill lane", "copper wren solo"), ("mill lane", "lantern hill trio", "zone two"),
             ("mill lane", "copper wren solo", "leaf lamp blinks slowly"))  # fmt: skip
    sessions: list[Session] = []
    at_s = [0.0]

    def written(chance: Random) -> tuple[Hypothesis, ...]:
        return tuple(
            Hypothesis(
                words(chance), -chance.random() * chance.choice([1, 20, 1e308]), "ear", (), chance.random() < 0.8
            )
            for _ in range(chance.randint(0, 3))
        )

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        if not sessions or sessions[0].closed or chance.random() < 0.05:
            for session in sessions:
                session.close()
            sessions[:] = [Session.begin(context, journal, RealClock(), "typed", datetime(2026, 1, 1))]
            sessions[0].open()
            for line in chance.choice(leads):
                sessions[0].type(line)
        slow.heard, quick.heard = written(chance), written(chance)
        question = sessions[0].expectation.question
        at_s[0] += 2.0

        def take() -> None:
            ears.expect(sessions[0].expectation)
            sessions[0].hear(ears.judge(Utterance(noise, at_s[0], at_s[0] + 1)))

        return (question, [each.words[:100] for each in (*slow.heard, *quick.heard)]), take

    return spoilt


def _rendered(folder: Path) -> Target:
    """A record with spoilt words in every field, in every format."""
    from datetime import datetime

    from assistant.dialogue import facts as f
    from assistant.language.meaning import Finding
    from assistant.library.loader import load
    from assistant.record.build import build
    from assistant.record.forms import FORMATS
    from assistant.visit.reading import Stamped, VisitRow

    library = load(user=folder / "nobody")
    at = datetime(2026, 1, 1)
    row = VisitRow("2026-01-01-1", at, "typed", 0, False)

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        text = words(chance)[: chance.choice([50, 500, 2000])].encode("utf-8", "replace").decode("utf-8")
        facts: list[f.Fact] = [
            f.VisitOpened(library="x", technician=text),
            *(f.Noted(topic=topic, value=text, words=text) for topic in ("site", "customer", "repair")),
            f.AnswerGiven(
                number=1,
                check="lock-out-power",
                question="state",
                place=text[:20],
                answer=Finding(choice="done"),
                how="typed",
                words=text,
                probability=1.0,
                ears=(("typed", text),),
            ),
            f.Said(text=text, about="remark"),
        ]
        record = build(row, [Stamped(n, at, 0.0, fact) for n, fact in enumerate(facts, 1)], library)
        return text[:200], lambda: [FORMATS[chance.choice(["html", "json", "csv", "pdf"])](record)]

    return spoilt


def _journals(folder: Path) -> Target:
    """Read, and every other one written to: each visit must take another turn."""
    from assistant.dialogue import facts as f
    from assistant.visit.journal import Journal
    from assistant.visit.reading import JournalReader
    from tests.visit.damage import AT, filled

    filled(folder / "whole.sqlite", visits=2, turns=12)
    whole = (folder / "whole.sqlite").read_bytes()
    path = folder / "home" / "journal.sqlite"

    def spoilt(chance: Random) -> tuple[Any, Callable[[], object]]:
        shutil.rmtree(path.parent, ignore_errors=True)
        path.parent.mkdir()
        path.write_bytes(spoil_bytes(whole, chance))
        writing = chance.random() < 0.5

        def take() -> None:
            with JournalReader(path) as journal:
                for row in journal.visits():
                    journal.facts(row.id)
            if writing:
                with Journal(path) as journal:
                    for row in journal.visits():
                        journal.append(row.id, AT, 99.0, [f.Said(text="on", about="remark")])

        return len(whole), take

    return spoilt


TARGETS: dict[str, Callable[[Path], Target]] = {
    "sounds": _sounds,
    "profiles": _profiles,
    "own profiles": _own_profiles,
    "knowledge": _knowledge,
    "scripts": _scripts,
    "transcripts": _transcripts,
    "drafts": _draft,
    "arguments": _arguments,
    "typed words": _typed,
    "heard words": _heard,
    "records": _rendered,
    "journals": _journals,
}


def all_kinds(each: int, first: int = 0) -> Iterator[Outcome]:
    """``each`` attacks of every kind."""
    for kind in TARGETS:
        yield attack(kind, range(first, first + each))
