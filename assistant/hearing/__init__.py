"""Hearing in three rooms, each knowing only those before it: ``sound``, ``ears``, ``listening``."""
