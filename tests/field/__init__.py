"""Units as they are: a simulator written from physics, to try the dialogue against something that is not its mirror.

Nothing here was written with sight of ``knowledge/``. A machine is parts with physical values (``machine/``); a fault
changes values (``faults/``); what a meter, an eye or a customer finds follows from circuits, refrigerant and control
(``world/``); people measure with errors, talk plainly and are now and then wrong (``people/``). ``adapter`` lets the
world answer the program's questions, ``driver`` leads one visit, ``run`` many.
"""
