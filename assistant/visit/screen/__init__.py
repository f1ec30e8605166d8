"""The one public way in for a screen beside the voice: what it shows as typed data, and what is tapped on it.

``schema.json`` describes both as JSON Schema; ``ladderside type --json`` gives a ``Screen`` a turn and takes taps.
"""

from assistant.visit.screen.showing import screen
from assistant.visit.screen.shown import Screen
from assistant.visit.screen.taps import Tap, TapError, read_tap, tapped

__all__ = ["Screen", "Tap", "TapError", "read_tap", "screen", "tapped"]
