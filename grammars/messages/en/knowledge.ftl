# A text of the knowledge as it stands there.
knowledge = { $text }
