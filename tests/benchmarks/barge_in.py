"""How often "stop" and "wait" are noticed while the assistant talks, how soon, and how often wrongly.

    python -m tests.benchmarks.barge_in [--cries 40] [--echo DB ...]

The assistant's own replies come back from a room through a loudspeaker that distorts, ``echo`` dB above or below the
technician's voice at the microphone, with a fan 15 dB below the voice. A cry counts when it is noticed from its own
word, and "soon" when that is at most 0.3 s after its end in the stream.
"""

from __future__ import annotations

import argparse

import numpy as np
import soxr

from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.listening.keywords import KeywordSpotter
from assistant.hearing.sound.audio import SAMPLE_RATE, Audio
from assistant.hearing.sound.barge_in import BargeIn
from assistant.hearing.sound.frames import AudioFrames
from assistant.hearing.sound.levels import level_db
from assistant.measuring import noise
from assistant.speaking.synthesis import RATE, synthesizer
from recordings_synthetic.voices import VOICES, say

REPLIES = (
    "The bus shows 324 V DC. Wait five minutes, then measure P to N.",
    "U to V 4.2 kΩ, within its limits. Next, measure V to W.",
    "Careful: the fan may start without warning. Keep your hand out of the blades.",
    "Stop the unit and wait until the fan stands still.",
    "Unplug connector CN7 and read the resistance at its pins.",
    "I heard 12,213 Ω, right?",
)
_VOICE_LEVEL = 0.05
_DELAY_S = 0.15


def replies(seconds: float) -> Audio:
    """The assistant talking for so long, with half a second between two replies."""
    pieces, at, number = [], 0, 0
    while at < seconds * SAMPLE_RATE:
        sound = soxr.resample(synthesizer().render(REPLIES[number % len(REPLIES)]), RATE, SAMPLE_RATE)
        pieces += [sound, np.zeros(SAMPLE_RATE // 2)]
        at += len(sound) + SAMPLE_RATE // 2
        number += 1
    return np.concatenate(pieces)[: round(seconds * SAMPLE_RATE)].astype(np.float32)


def echo_of(played: Audio, level: float) -> Audio:
    """What the microphone hears of it: later, bent by the loudspeaker, with the room's tail."""
    bent = np.tanh(2 * played) / 2
    late = np.concatenate([np.zeros(round(_DELAY_S * SAMPLE_RATE)), bent])[: len(played)].astype(np.float32)
    back = noise.room(late, 3, distance_m=0.6)
    return back * np.float32(level / noise.speech_level(back))


def cries(count: int) -> list[tuple[str, Audio]]:
    """Stop and wait in as many voices as there are."""
    voices = [voice.name for voice in VOICES if voice.engine in ("flite", "festival", "espeak-ng")]
    return [(word, say(word, voices[number % len(voices)])) for number in range(count) for word in ("stop", "wait")]


def trial(chosen: list[tuple[str, Audio]], echo_db: float, spotter: KeywordSpotter) -> str:
    """One run with a cry every four seconds, and one as long without any."""
    seconds = 10.0 + 4.0 * len(chosen)
    played = replies(seconds)
    heard = echo_of(played, _VOICE_LEVEL * 10 ** (echo_db / 20))
    heard = heard + noise.noise("fan", 5, 0, len(heard)) * np.float32(_VOICE_LEVEL * 10 ** (-15 / 20))
    alone = _noticed(heard, played, spotter)
    places = []
    for number, (word, cry) in enumerate(chosen):
        at = round((10.0 + 4.0 * number) * SAMPLE_RATE)
        # the word's own end, without the synthetic voice's silence
        loud = np.flatnonzero(np.abs(cry) > 0.05 * np.abs(cry).max())
        heard[at : at + len(cry)] += cry * np.float32(_VOICE_LEVEL / noise.speech_level(cry))
        places.append((word, at / SAMPLE_RATE, (at + int(loud[-1])) / SAMPLE_RATE))
    found = _noticed(heard, played, spotter)
    late = [
        min([when - end for cry, when in found if cry == word and start < when < end + 1.5], default=None)
        for word, start, end in places
    ]
    hits = [each for each in late if each is not None]
    soon = sum(each <= 0.3 for each in hits)
    return (
        f"echo {echo_db:+3.0f} dB: noticed {len(hits)} of {len(places)}, soon {soon}; "
        f"median {np.median(hits) if hits else float('nan'):.2f} s after the word; "
        f"own voice taken for a cry {len(alone)} times in {seconds / 60:.1f} min"
    )


def _noticed(heard: Audio, played: Audio, spotter: KeywordSpotter) -> list[tuple[str, float]]:
    barge_in, found = BargeIn(spotter), []
    for frame, back in zip(AudioFrames(heard), AudioFrames(played), strict=True):
        barge_in.feed(frame, back.audio)
        if barge_in.cry is not None:
            found.append((barge_in.cry, frame.end_s))
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cries", type=int, default=40)
    parser.add_argument("--echo", type=float, nargs="+", default=[-20, -10, -5, 0, 5], metavar="DB")
    options = parser.parse_args()
    chosen = cries(options.cries // 2)
    spotter = KeywordSpotter(PhonemeEar())
    print(f"replies at {level_db(replies(10.0)):.0f} dB of full scale")
    for echo_db in options.echo:
        print(trial(chosen, echo_db, spotter), flush=True)


if __name__ == "__main__":
    main()
