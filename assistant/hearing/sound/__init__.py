"""Sound becomes utterances: frames, the echo of its own voice, where speech begins and ends."""
