"""Every number a visit needs: pure functions on plain numbers, units in their names, one subject a file.

Find your way: ``catalogue`` runs any calculation by name with formula, numbers and source; ``entries/`` says what it
offers; ``uncertainty`` turns a value, its limits and a meter's accuracy into pass, fail or undecided; ``errors`` is all
that can be raised; ``units`` reads and shows. Nothing here knows of speech, visits or files beyond its own tables.
"""
