"""What reasoning refuses."""

from __future__ import annotations

from assistant.errors import LaddersideError


class ReasoningError(LaddersideError):
    """A suspect, check, symptom, outcome or judge that this unit's library does not hold, or that cannot work."""
