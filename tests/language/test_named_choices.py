"""Names of supplies and refrigerants among other words."""

import pytest

from assistant.language.closed import REFRIGERANTS, SUPPLIES
from assistant.language.named_choices import named_within


@pytest.mark.parametrize(
    ("words", "supply"),
    [
        ("it's a brinewell, two forty volt, r thirty two", ("split-phase-240",)),
        ("she's two forty single phase", ("split-phase-240",)),
        ("plate says 208/230 volts", ("wye-208", "single-phase-230")),
        ("three phase two oh eight in this building", ("wye-208",)),
        ("just one twenty volts off the wall", ("single-phase-115",)),
        ("two forty five volts right now", ()),
        ("house was built in nineteen two forty something", ()),
        ("it's a copper brook, two forty, r four ten a", ("split-phase-240",)),
        ("two forty", ("split-phase-240",)),
        ("forty amps and two thirty", ("single-phase-230",)),
        ("one head", ()),
    ],
)
def test_supplies(words, supply):
    assert named_within(words, SUPPLIES) == supply


@pytest.mark.parametrize(
    ("words", "refrigerant"),
    [
        ("it's a brinewell, two forty volt, r thirty two", ("R32",)),
        ("label on the side says R-410A", ("R410A",)),
        ("thirty two degrees outside", ()),
        ("thirty two amps", ()),
        ("it's a copper brook, two forty, r four ten a", ("R410A",)),
        ("r four fifty four b, new stuff", ("R454B",)),
        ("four ten", ("R410A",)),
    ],
)
def test_refrigerants(words, refrigerant):
    assert named_within(words, REFRIGERANTS) == refrigerant
