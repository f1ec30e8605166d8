"""The safety watcher: what a safety officer would object to in what Ladderside says, heard from outside.

It listens to what is spoken and answered and to nothing else: no touches, no hazards, no energy state of the program.
What hands come to is read from each step's own words (``words``); what has been shown of power, circuit and cautions is
followed in books of its own (``books``); what must hold is written from these (``rules``):

- NFPA 70E-2024, 120.6, step 7: each point of work, conductor to conductor and to earth, tester tried before and after
- 29 CFR 1910.147(d): shut down, isolate, lock, relieve stored energy, verify, and go on verifying; its (e), put back
  and told before power, and (f), another person's own lock, from memory
- 29 CFR 1910.333(b)(2)(iv): tested by a qualified person; (a)(2) and (b)(1), what is not shown dead is live, from
  memory
- 29 CFR 1910.334(b)(2): nothing that tripped is closed again before it is known to be safe
- EN 50110-1, 6.2: isolate, secure against reclosing, prove dead (from memory)
- ISO 5149-4 and EN 378-4: the charge recovered before a circuit is opened, purged before a flame; leave at an alarm,
  come back when the air is clear (from memory)
- 29 CFR 1926.1053(b), 1910.28: ladders that do not conduct, no edge without an anchor (from memory)

What was read, and where, stands in ``knowledge/sources.yaml``.

``python -m tests.safety.run --visits 200 --seed 1`` leads so many random visits and names each break.
"""
