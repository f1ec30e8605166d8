"""The whole live path on a real sound device: the assistant talks, the technician cries "stop", the voice is hushed."""

import numpy as np
import soundfile as sf

from assistant.hearing.ears.phoneme import PhonemeEar
from assistant.hearing.listening.keywords import KeywordSpotter
from assistant.hearing.sound.audio import SAMPLE_RATE
from assistant.hearing.sound.barge_in import HearingThrough, PlayedSound
from assistant.hearing.sound.microphone import Microphone
from assistant.speaking.loudspeaker import LoudspeakerVoice
from recordings_synthetic.voices import say

#: Long enough for the echo to be learnt before the cry, and to be cut off by it.
REPLY = "The bus shows 324 V DC. Then measure P to N. Careful: the fan may move without warning. " * 3
TALKS_AT_S, FIRST_CRY_AT_S = 0.5, 8.0
#: Whoever is not heard cries again. A busy machine loses sound, so that a whole reply may be cried into in vain.
AGAIN_S, MOST_CRIES = 1.8, 12


def test_stop_hushes_the_assistant_while_it_talks(sound_card, tmp_path):
    sf.write(tmp_path / "stop.wav", np.pad(say("stop", "festival-kal") * 4, (0, SAMPLE_RATE)), SAMPLE_RATE)
    decide, played, crying, hushed = KeywordSpotter(PhonemeEar()), PlayedSound(), [], []
    voice = LoudspeakerVoice(heard_by=played.put)
    speeches = []

    def hush(cry):
        if cry == "stop" and crying and not speeches[-1].done:
            voice.stop()
            hushed.append(speeches[-1])

    with Microphone() as microphone:
        for frame in HearingThrough(microphone, played, decide, hush):
            if hushed or len(crying) == MOST_CRIES:
                break
            if frame.start_s > TALKS_AT_S and (not speeches or speeches[-1].done):
                speeches.append(voice.say(REPLY))
            if frame.start_s > FIRST_CRY_AT_S + AGAIN_S * len(crying):
                crying.append(sound_card.play(tmp_path / "stop.wav"))
    voice.close()
    for player in crying:
        player.wait()
    assert hushed, f"cried {len(crying)} times in vain"
    assert not hushed[0].wait(0), "it was not said to its end"
