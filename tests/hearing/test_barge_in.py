"""The assistant's own voice is taken out of the microphone, and a cry is noticed through it."""

import subprocess
import sys

import numpy as np
import pytest
import soxr
from hypothesis import given
from hypothesis import strategies as st

from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.listening.keywords import WAKE_WORST, KeywordSpotter, wake_phrases
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.barge_in import BargeIn, HearingThrough, PlayedSound
from assistant.hearing.sound.echo import EchoCanceller
from assistant.hearing.sound.frames import FRAME, AudioFrames, room_noise
from assistant.measuring import noise
from assistant.speaking.synthesis import RATE
from recordings_synthetic.voices import say
from tests.hearing.speech import around

REPLIES = (
    "The bus shows 324 V DC. Wait five minutes, then measure P to N.",
    "Careful: the fan may start without warning. Keep your hand out of the blades.",
    "Stop the unit and wait until the fan stands still.",
)
_SPEAK = (
    "import sys, numpy as np; from assistant.speaking.synthesis import synthesizer; "
    "np.save(sys.argv[1], np.concatenate([synthesizer().render(text) for text in sys.argv[2:]]))"
)
LEVEL = 0.05
#: A device takes its sound so long before it is in the air.
AHEAD_S = 0.08


@pytest.fixture(scope="module")
def ear():
    return PhonemeEar()


@pytest.fixture(scope="module")
def talking(tmp_path_factory):
    """What the loudspeaker plays, and what the microphone hears of it 150 ms later in a room.

    Spoken by a program of its own: the hiss in espeak's "s" depends on all that it has said before.
    """
    file = tmp_path_factory.mktemp("replies") / "replies.npy"
    subprocess.run([sys.executable, "-c", _SPEAK, str(file), *REPLIES], check=True)
    played = np.concatenate([soxr.resample(np.load(file), RATE, SAMPLE_RATE)] * 2).astype(np.float32)
    late = np.concatenate([np.zeros(2400, np.float32), played])[: len(played)]
    echo = noise.room(late, 3, distance_m=0.6)
    return played, echo * np.float32(LEVEL * 0.6 / noise.speech_level(echo)) + room_noise(len(echo), -65)


def power_db(sound):
    return 10 * np.log10(np.mean(np.square(sound, dtype=np.float64)))


def cancelled(heard, played):
    canceller = EchoCanceller()
    frames = zip(AudioFrames(heard), AudioFrames(played), strict=True)
    return np.concatenate([canceller.cancel(one.audio, other.audio) for one, other in frames])[: len(heard)]


def test_the_own_voice_is_learnt_and_taken_out(talking):
    played, heard = talking
    rest = cancelled(heard, played)
    last = slice(len(heard) // 2, None)
    assert power_db(heard[last]) - power_db(rest[last]) > 12


def test_another_voice_stays_as_it_is(talking):
    played, heard = talking
    other = np.zeros_like(heard)
    voice = say("four point two kilohms", "flite-rms")
    at = 3 * len(heard) // 4
    other[at : at + len(voice)] = voice
    rest = cancelled(heard + other, played)[at : at + len(voice)]
    likeness = rest @ voice / np.sqrt((rest @ rest) * (voice @ voice))
    assert likeness > 0.9


def test_without_anything_played_the_microphone_is_untouched():
    sound = around(say("stop", "flite-rms"))
    np.testing.assert_allclose(cancelled(sound, np.zeros_like(sound)), sound, atol=1e-7)


@pytest.mark.parametrize("word", ["stop", "wait"])
def test_a_cry_is_noticed_while_the_assistant_talks_and_nothing_else_is(talking, ear, word):
    played, heard = talking
    heard = heard.copy()
    cry = say(word, "festival-kal")
    at = 2 * len(heard) // 3
    heard[at : at + len(cry)] += cry * np.float32(LEVEL / noise.speech_level(cry))
    noticed, source = [], AudioFrames(heard)
    barge_in = BargeIn(KeywordSpotter(ear))
    for frame, back in zip(source, AudioFrames(played), strict=True):
        assert barge_in.feed(frame, back.audio).start_s == frame.start_s
        if barge_in.cry:
            noticed.append((barge_in.cry, frame.end_s))
    # the replies say "stop" and "wait" themselves, all the time
    assert [cry for cry, _ in noticed] == [word]
    assert at / SAMPLE_RATE < noticed[0][1] < (at + len(cry)) / SAMPLE_RATE + 0.3


def test_until_the_echo_is_learnt_the_own_voice_is_not_given_on(talking):
    """What nobody can tell from a voice yet is not given on: else the first reply would answer itself."""
    played, heard = talking
    barge_in = BargeIn(lambda audio: None)
    room = heard[: SAMPLE_RATE // 2] * 0 + room_noise(SAMPLE_RATE // 2, -65)
    sound, back = np.concatenate([room, heard]), np.concatenate([room * 0, played])
    frames = zip(AudioFrames(sound), AudioFrames(back), strict=True)
    given = np.concatenate([barge_in.feed(frame, other.audio).audio for frame, other in frames])
    first = slice(SAMPLE_RATE, 2 * SAMPLE_RATE)
    assert power_db(sound[first]) > power_db(room) + 20
    assert power_db(given[first]) < power_db(room) + 6
    last = slice(-SAMPLE_RATE, None)
    assert not np.array_equal(given[last][:FRAME], given[last][FRAME : 2 * FRAME]), "later the microphone is heard"


def test_nobody_asks_while_nothing_is_played():
    asked = []
    barge_in = BargeIn(lambda audio: asked.append(audio))
    sound = np.concatenate([np.zeros(SAMPLE_RATE), say("stop", "flite-rms")]).astype(np.float32)
    for frame in AudioFrames(sound + room_noise(len(sound))):
        barge_in.feed(frame, np.zeros(FRAME, np.float32))
    assert asked == []


@pytest.mark.parametrize("voice", ["flite-awb", "festival-kal", "espeak-american"])
def test_the_quick_decision_tells_cries_from_answers(ear, voice):
    spot = KeywordSpotter(ear)
    for word in ("stop", "wait"):
        assert spot(around(say(word, voice), 0.15)) == word
    for words in ("yes", "four point two", "what is left", "go back", "seven"):
        assert spot(around(say(words, voice), 0.15)) is None
    assert spot(np.zeros(100, np.float32)) is None


@pytest.mark.parametrize("voice", ["flite-awb", "festival-kal", "espeak-american"])
def test_the_wake_phrase(ear, voice):
    (phrase,) = wake_phrases()
    spot = KeywordSpotter(ear, wake_phrases(), WAKE_WORST)
    assert spot(around(say(phrase, voice))) == "call"
    for words in ("is the ladder here", "the letter", "listen to me", "i will call you later", "stop"):
        assert spot(around(say(words, voice))) is None


@given(
    st.lists(st.integers(1, 900), min_size=60, max_size=90).filter(lambda lengths: sum(lengths) > 20 * FRAME),
    st.floats(-0.02, 0.02),
    st.randoms(),
)
def test_the_played_sound_keeps_its_place_whatever_the_blocks_and_their_times(lengths, starts_s, random):
    """Blocks come when the device likes, with times that are off by up to 10 ms."""
    sound = np.arange(1, sum(lengths) + 1, dtype=np.float32)
    played, at, taken = PlayedSound(), 0, []
    for length in lengths:
        off_s = random.uniform(-0.01, 0.01)
        played.put(sound[at : at + length], SAMPLE_RATE, starts_s + at / SAMPLE_RATE + off_s)
        at += length
        while (len(taken) + 4) * FRAME < at:
            taken.append(played.during(len(taken) * FRAME / SAMPLE_RATE))
    together = np.concatenate(taken)[len(taken) * FRAME // 2 :]
    places = np.flatnonzero(together)
    distance = {int(together[place]) - place for place in places}
    assert len(distance) == 1, "once the clock's median stands, no sample moves"


def test_the_played_sound_is_known_though_the_loop_is_half_a_minute_behind():
    """So long models may load on a busy machine; what was played meanwhile must still be taken for its own."""
    played, blocks = PlayedSound(), 40 * SAMPLE_RATE // 320
    for block in range(blocks):
        played.put(np.arange(320 * block, 320 * (block + 1), dtype=np.float32), SAMPLE_RATE, 0.02 * block)
    frames = [played.during(number * FRAME / SAMPLE_RATE) for number in range(20, 1200)]
    assert all(frame[0] == frames[0][0] + number * FRAME for number, frame in enumerate(frames))


def test_what_is_not_played_yet_is_silence():
    played = PlayedSound()
    played.put(np.ones(320, np.float32), SAMPLE_RATE, 0.0)
    assert not played.during(5.0).any()


def test_samples_lost_by_the_microphone_are_made_up_for():
    played = PlayedSound()
    for block in range(200):
        played.put(np.arange(320 * block, 320 * (block + 1), dtype=np.float32), SAMPLE_RATE, 0.02 * block)
    lost_s, seconds = 0.1, FRAME / SAMPLE_RATE
    before = [played.during(1.0 + number * seconds) for number in range(20)]
    after = [played.during(1.0 + number * seconds + lost_s) for number in range(20, 40)]
    assert played.joins == 1
    assert before[-1][0] - before[0][0] == 19 * FRAME
    assert after[-1][0] - before[0][0] == pytest.approx(39 * FRAME + lost_s * SAMPLE_RATE, abs=1)


def test_a_microphone_without_our_own_voice(talking):
    played_sound, heard = talking
    cries = []
    played = PlayedSound()

    class Source(AudioFrames):
        """Plays a frame for each that it gives."""

        closed = False

        def __iter__(self):
            for frame, back in zip(super().__iter__(), AudioFrames(played_sound), strict=True):
                played.put(back.audio, SAMPLE_RATE, frame.start_s + AHEAD_S)
                yield frame

        def close(self):
            self.closed = True

    source = Source(heard)
    through = HearingThrough(source, played, lambda audio: "stop", cries.append)
    rest = np.concatenate([frame.audio for frame in through])[: len(heard)]
    last = slice(len(heard) // 2, None)
    assert power_db(heard[last]) - power_db(rest[last]) > 8
    through.close()
    assert source.closed
