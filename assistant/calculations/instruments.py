"""What the usual service instruments can do, for sums that are not told which one was used.

The same figures stand in ``knowledge/instruments.yaml``, which the visit reads; a test holds them together. Their
source is the data sheets of usual instruments as collected there, the parts that differ between two readings ("own")
common practice, no source.
"""

from __future__ import annotations

from typing import NamedTuple

from assistant.calculations.errors import UnknownName
from assistant.calculations.uncertainty import Accuracy


class Instrument(NamedTuple):
    """``name`` as people say it; ``accuracy`` in the unit kept inside."""

    name: str
    accuracy: Accuracy


USUAL: dict[str, Instrument] = {
    "given": Instrument("instrument as good as given", Accuracy()),
    "multimeter-ohm": Instrument("multimeter on ohms", Accuracy(0.9, 0.2)),
    "low-ohm-meter": Instrument("low-ohm meter", Accuracy(0.5, 0.005)),
    "insulation-tester": Instrument("insulation tester", Accuracy(5, 50e3)),
    "multimeter-ac": Instrument("multimeter on AC volts", Accuracy(1, 0.5)),
    "multimeter-dc": Instrument("multimeter on DC volts", Accuracy(0.5, 0.1)),
    "diode-test": Instrument("multimeter on diode test", Accuracy(1, 0.003)),
    "clamp-ac": Instrument("clamp meter", Accuracy(2, 0.05)),
    "multimeter-capacitance": Instrument("multimeter on capacitance", Accuracy(3, 0.05)),
    "multimeter-hertz": Instrument("multimeter on hertz", Accuracy(0.1, 0.1)),
    "contact-thermometer": Instrument("contact thermometer", Accuracy(0, 0.7, 0.3, 0.1)),
    "air-thermometer": Instrument("air thermometer", Accuracy(0, 0.5, 0.2, 0.1)),
    "hygrometer": Instrument("hygrometer", Accuracy(0, 3, 1)),
    "digital-gauge": Instrument("digital refrigerant gauge", Accuracy(0.5, 7, 3.5, 1)),
    "vacuum-gauge": Instrument("electronic vacuum gauge", Accuracy(10, 1.5)),
    "charging-scale": Instrument("refrigerant scale", Accuracy(0.1, 0.01)),
    "tape-measure": Instrument("tape measure", Accuracy(0.5, 0.02)),
    "anemometer": Instrument("vane anemometer", Accuracy(5, 10)),
    "wattmeter": Instrument("clamp wattmeter", Accuracy(2, 5)),
}


def usual(name: str) -> Accuracy:
    """The accuracy of the usual instrument called ``name`` (one of ``USUAL``). Raises UnknownName."""
    if name not in USUAL:
        raise UnknownName("instrument", name, USUAL)
    return USUAL[name].accuracy
