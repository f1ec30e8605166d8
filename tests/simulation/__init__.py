"""A simulated technician at a simulated unit: physics answers the checks, never the likelihood tables.

``unit`` holds the state of a whole unit, ``systems/`` one file for each system of the machine with its state, how each
fault changes it, and what each check then shows; ``cycle`` is the refrigerant circuit; ``technician`` turns what is
there into answers with meter noise and, if asked, wrong answers; ``visit`` runs a search by one of three orders.
"""
