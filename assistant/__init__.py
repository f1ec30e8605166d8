"""Ladderside: a voice-first, offline diagnostic assistant for heat-pump technicians."""

__version__ = "0.1.0"
