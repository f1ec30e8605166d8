"""The unit itself: parts, wiring, refrigerant, control. Knows nothing of technicians or of the program."""
