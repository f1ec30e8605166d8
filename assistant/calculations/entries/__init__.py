"""The catalogue's entries, one subject a file; each gives ``ENTRIES``."""
