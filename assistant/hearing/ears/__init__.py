"""The ears: each takes an utterance and proposes words."""
