"""What an utterance amounts to beside its answer: a cry, nothing, or a command cut out of it."""

from __future__ import annotations

import re
from dataclasses import replace

from assistant.dialogue.commands import HOLDS
from assistant.hearing.sound.audio import SAMPLE_RATE, Utterance
from assistant.language.meaning import Command, Heard
from assistant.messages.catalogue import catalogue
from assistant.messages.message import Message, message

#: What each note on the sound of an utterance makes the assistant say.
ADVICE: dict[str, Message] = {
    "clipped": message("sound-clipped"),
    "noisy": message("sound-noisy"),
    "too quiet": message("sound-too-quiet"),
}


def without_before(utterance: Utterance, start_s: float) -> Utterance:
    """The utterance without what was before ``start_s``."""
    surplus = max(0, round((start_s - utterance.start_s) * SAMPLE_RATE))
    return replace(utterance, audio=utterance.audio[surplus:], start_s=utterance.start_s + surplus / SAMPLE_RATE)


def is_cry(heard: Heard) -> bool:
    """Whether the utterance is a cry, or at least one of the ears wrote nothing else."""
    if command_in(heard) in HOLDS:
        return True
    written = [re.findall(r"[a-z]+", words.lower()) for _, words in heard.ears]
    return heard.trust != "sure" and any(words and set(words) <= HOLDS for words in written)


def advised(heard: Heard, utterance: Utterance) -> Heard:
    """With what would help to be understood, where something was wrong with the sound."""
    advice = next((ADVICE[note] for note in utterance.notes if note in ADVICE), None)
    if heard.trust != "again" or advice is None:
        return heard
    return heard.model_copy(update={"doubt": catalogue().words(advice, None)})


def is_nothing(heard: Heard) -> bool:
    """Something that sounded like a voice, but neither ear heard a word in it: a bang, a squeak, a far-off shout."""
    return heard.trust == "again" and not any(words for _, words in heard.ears)


def as_command(heard: Heard, cry: str) -> Heard:
    """A cry that the ears did not agree on is the one that hushed the reply; both kinds are harmless."""
    if command_in(heard) in HOLDS:
        return heard
    return heard.model_copy(update={"words": cry, "meaning": Command(name=cry), "trust": "confirm"})


def command_in(heard: Heard) -> str:
    """The command that was heard well enough to be one, else no word."""
    return heard.meaning.name if isinstance(heard.meaning, Command) and heard.trust != "again" else ""
