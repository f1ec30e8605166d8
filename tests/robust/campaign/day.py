"""A working day in one process: visits one after the other with hours of the room between them, heard by the same ears.

What grows with every visit or every hour would end a long day: memory, the time of a turn, the time to a reply.
"""

from __future__ import annotations

import io
import statistics
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

from assistant.hearing.listening.default import default_ears
from assistant.hearing.sound.audio import Utterance
from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
from assistant.hearing.sound.endpointing import Endpointer
from assistant.hearing.sound.frames import Frame, Framer
from assistant.language.meaning import Expectation, Heard
from assistant.library.loader import load
from assistant.speaking.file_voice import FileVoice
from assistant.visit import recording
from assistant.visit.clocks import StreamClock
from assistant.visit.conversation import Conversation
from assistant.visit.journal import Journal
from assistant.visit.replay import RecordedTechnician
from assistant.visit.room import Room
from assistant.visit.session import Knowledgeable, Session
from assistant.visit.transcript import Transcript
from tests.robust.campaign.report import Report

ROOT = Path(__file__).parents[3]
#: Memory may not grow by more from the third visit on, MB: the first ones load what every visit needs.
MOST_MB, SETTLED = 20.0, 3
#: The same recording later in the day may take so much longer: half is what the processor's own moods come to.
MOST_SLOWER = 1.5


class _Timed:
    """The ears, and how much of the processor each judgement took: other work on the machine counts for nothing."""

    def __init__(self) -> None:
        self.ears = default_ears()
        self.took_s: list[float] = []

    def expect(self, expectation: Expectation) -> None:
        self.ears.expect(expectation)

    def begin(self, utterance: Utterance) -> None:
        self.ears.begin(utterance)

    def judge(self, utterance: Utterance) -> Heard:
        began = time.process_time()
        heard = self.ears.judge(utterance)
        self.took_s.append(time.process_time() - began)
        return heard


def work(visits: int, hours: float, folder: Path) -> Report:
    """That many visits and hours; prints a line for each visit."""
    report = Report("a working day")
    recordings = [recording.load(path.parent) for path in sorted((ROOT / "recordings_synthetic").glob("*/script.yaml"))]
    context = Knowledgeable(load(user=folder / "nobody"))
    journal = Journal(folder / "journal.sqlite")
    ears = _Timed()
    rows: list[tuple[float, float, float]] = []
    for number in range(visits):
        visit = recordings[number % len(recordings)]
        ears.took_s.clear()
        turn_s = _visit(report, context, journal, ears, visit, hours * 3600 / visits, folder / str(number))
        rows.append((_memory_mb(), turn_s, statistics.median(ears.took_s)))
        report.tried += 1
        report.kept += len(ears.took_s)
        memory, turn, judged = rows[-1]
        print(
            f"  visit {number + 1}: {memory:.0f} MB, {1000 * turn:.1f} ms a turn, {1000 * judged:.0f} ms to judge",
            flush=True,
        )
    if len(rows) > SETTLED:
        grown = rows[-1][0] - rows[SETTLED - 1][0]
        report.hold(grown <= MOST_MB, f"memory grew by {grown:.0f} MB after visit {SETTLED}")
        report.note = f"{hours:g} h; memory {rows[SETTLED - 1][0]:.0f} to {rows[-1][0]:.0f} MB"
        _look(report, rows, len(recordings))
    return report


def _look(report: Report, rows: list[tuple[float, float, float]], recordings: int) -> None:
    """A turn and a judgement take as long in the last visit of each recording as in its first one."""
    for at, what in ((1, "a turn"), (2, "a judgement")):
        ratios = [rows[last][at] / rows[first][at] for first, last in _pairs(len(rows), recordings)]
        if ratios:
            middle = statistics.median(ratios)
            report.hold(middle <= MOST_SLOWER, f"{what} takes {middle:.2f} times as long late in the day")
            report.note += f"; {what} {middle:.2f} times the first"


def _pairs(visits: int, recordings: int) -> list[tuple[int, int]]:
    """First and last visit of each recording that was played more than once, those before SETTLED left out."""
    by_recording = [list(range(first, visits, recordings)) for first in range(min(recordings, visits))]
    settled = [[visit for visit in each if visit >= min(SETTLED, recordings)] for each in by_recording]
    return [(each[0], each[-1]) for each in settled if len(each) > 1]


def _visit(
    report: Report,
    context: Knowledgeable,
    journal: Journal,
    ears: _Timed,
    visit: recording.RecordedVisit,
    room_s: float,
    folder: Path,
) -> float:
    """One visit, then the room until the next one; seconds of a turn without ears and voice (median, processor)."""
    clock = StreamClock()
    session = Session.begin(context, journal, clock, "replay", datetime(2026, 3, 4, 8))
    voice = FileVoice(folder / "replies.flac")
    conversation = Conversation(session, clock, ears, Endpointer(), voice, Transcript(io.StringIO()), endures=False)
    technician = RecordedTechnician(visit, conversation, voice)
    took_s: list[float] = []
    do = session._do

    def timed(event: object) -> object:
        began = time.process_time()
        turn = do(event)  # type: ignore[arg-type]
        took_s.append(time.process_time() - began)
        return turn

    session._do = timed  # type: ignore[method-assign, assignment]
    conversation.run(HearingThrough(technician, PlayedSound(), lambda audio: None, conversation.cried), session.open())
    report.hold(session.closed, f"{visit.name} did not end: {technician.complaint}")
    session.close()
    endpointer = Endpointer()
    for frame in _room(visit, room_s):
        for _ in endpointer.feed(frame):
            pass
    voice.close()
    return statistics.median(took_s)


def _room(visit: recording.RecordedVisit, seconds: float) -> Iterator[Frame]:
    framer = Framer()
    for piece in Room.of(visit.room).silence(seconds):
        yield from framer.cut(piece)


def _memory_mb() -> float:
    """What this process holds of the machine's memory."""
    for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    return 0.0
