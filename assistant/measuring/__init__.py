"""What hearing is worth: sets of recordings, noise mixed under them, answers compared with the truth."""
