"""A new unit profile by question and answer, while reading the maker's manual; typed or spoken alike."""
