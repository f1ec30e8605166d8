"""Sound devices for the tests of speaking."""

from tests.soundcard import no_sound_card, sound_card

__all__ = ["no_sound_card", "sound_card"]
