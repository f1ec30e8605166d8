"""How well utterances are found in noise, in talk further away, and in noise alone.

    python -m tests.benchmarks.endpointing FOLDER [--every N]

FOLDER holds sound files of one utterance each. They are strung together with pauses, one level, and put into each
noise. "whole" is found once and by itself; "missed" not at all; "split" in several; "joined" with its neighbour;
"extra" where nobody spoke. "late" and "early" count those whose first or last word is cut against the clean edges.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.hearing.sound.audio import SAMPLE_RATE, Audio, Utterance
from assistant.hearing.sound.endpointing import Endpointer, Settings, events
from assistant.hearing.sound.files import load
from assistant.hearing.sound.frames import AudioFrames, room_noise
from assistant.measuring import noise

_LEVEL = 0.05


@dataclass(frozen=True)
class Stream:
    audio: Audio
    spoken: tuple[tuple[float, float], ...]


def string_together(clips: list[Audio], seed: int = 1, pause_s: tuple[float, float] = (1.2, 3.0)) -> Stream:
    """The clips at one level with random pauses between them."""
    rng = np.random.default_rng(seed)
    pieces, spoken, at = [], [], 0
    for clip in clips:
        gap = np.zeros(int(SAMPLE_RATE * rng.uniform(*pause_s)), np.float32)
        level = clip * np.float32(_LEVEL / noise.speech_level(clip))
        at += len(gap)
        spoken.append((at / SAMPLE_RATE, (at + len(clip)) / SAMPLE_RATE))
        at += len(clip)
        pieces += [gap, level]
    audio = np.concatenate([*pieces, np.zeros(SAMPLE_RATE, np.float32)])
    return Stream(audio + room_noise(len(audio)), tuple(spoken))


def hear(stream: Stream, settings: Settings, learn: bool) -> list[Utterance]:
    """The utterances; with ``learn`` those in the right places teach whose voice it is, as answers do."""
    endpointer, found = Endpointer(settings), []
    for event in events(AudioFrames(stream.audio), endpointer):
        if isinstance(event, Utterance):
            found.append(event)
            if learn and any(event.start_s < end and event.end_s > start for start, end in stream.spoken):
                endpointer.learn(event)
    return found


def count(stream: Stream, found: list[Utterance]) -> dict[str, int]:
    """How many were found how; see the top."""
    result = dict.fromkeys(("whole", "missed", "split", "joined"), 0)
    used: set[int] = set()
    for start, end in stream.spoken:
        hits = [index for index, each in enumerate(found) if each.start_s < end and each.end_s > start]
        kind = "missed" if not hits else "split" if len(hits) > 1 else "joined" if used & set(hits) else "whole"
        used |= set(hits)
        result[kind] += 1
    return {**result, "extra": len(found) - len(used)}


def cut(stream: Stream, found: list[Utterance], clean: list[Utterance]) -> dict[str, int]:
    """Utterances that begin after, or end before, the voice of the clean ones (whose margins are taken off)."""
    margin = Settings()
    late = early = 0
    for start, end in stream.spoken:
        mine = [each for each in found if each.start_s < end and each.end_s > start]
        right = [each for each in clean if each.start_s < end and each.end_s > start]
        if mine and right:
            late += mine[0].start_s > right[0].start_s + margin.before_s
            early += mine[-1].end_s < right[-1].end_s - margin.after_s
    return {"late": late, "early": early}


def scenes(stream: Stream, clips: list[Audio]) -> Iterator[tuple[str, Stream]]:
    """Every noise at every level, then talk further away."""
    length = len(stream.audio)
    for kind in noise.KINDS:
        for snr_db in (10, 5, 0):
            background = noise.noise(kind, 3, 0, length) * np.float32(_LEVEL * 10 ** (-snr_db / 20))
            yield f"{kind} {snr_db} dB", Stream(stream.audio + background, stream.spoken)
    waiting = string_together(clips[::9], pause_s=(20.0, 90.0))
    for kind in ("fan", "pump", "street"):
        background = noise.noise(kind, 4, 0, len(waiting.audio)) * np.float32(_LEVEL * 10 ** (-5 / 20))
        yield f"{kind} 5 dB, long waits", Stream(waiting.audio + background, waiting.spoken)
    for weaker_db, distance_m in ((25, 6.0), (20, 4.0), (15, 4.0), (10, 3.0)):
        talk = noise.far_talk(clips, 2, length, distance_m) * np.float32(_LEVEL * 10 ** (-weaker_db / 20))
        yield f"talk at {distance_m:.0f} m, -{weaker_db} dB", Stream(stream.audio + talk, stream.spoken)
    for gain_db in (-20, -30, -40):
        yield f"microphone {gain_db} dB", Stream(stream.audio * np.float32(10 ** (gain_db / 20)), stream.spoken)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--every", type=int, default=1, help="use every Nth file only")
    parser.add_argument("--weak", type=float, default=Settings.weak_db)
    chosen = parser.parse_args()
    settings = Settings(weak_db=chosen.weak)
    files = sorted(path for path in chosen.folder.iterdir() if path.suffix in {".flac", ".wav"})
    clips = [load(path) for path in files[:: chosen.every]]
    stream = string_together(clips)
    began = time.perf_counter()
    clean = hear(stream, settings, learn=True)
    share = (time.perf_counter() - began) / (len(stream.audio) / SAMPLE_RATE)
    print(f"{len(clips)} utterances; {share:.3f} of real time on one core")
    print(f"{'clean':28}", count(stream, clean))
    for name, scene in scenes(stream, clips[::7]):
        found = hear(scene, settings, learn=True)
        edges = cut(scene, found, clean) if scene.spoken == stream.spoken else {}
        print(f"{name:28}", count(scene, found), edges, flush=True)
    for kind in noise.KINDS:
        alone = Stream(noise.noise(kind, 5, 0, 300 * SAMPLE_RATE) * np.float32(0.03), ())
        print(f"{kind + ' alone, 5 min':28}", count(alone, hear(alone, settings, learn=False)), flush=True)


if __name__ == "__main__":
    main()
