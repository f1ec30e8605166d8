"""Ladderside: a voice-first, offline diagnostic assistant for heat-pump technicians."""

from assistant.offline import hush_libraries

__version__ = "0.1.0"

hush_libraries()
