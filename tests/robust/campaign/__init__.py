"""Faults done to the program on purpose. After each: the same question, nothing lost, nothing doubled."""
