"""What is said, apart from its words: messages with values, and the catalogue that words them."""
