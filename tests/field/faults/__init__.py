"""What can be wrong with an installation, one file a system: values that differ from the sound machine."""

from tests.field.faults import (
    air_and_house,
    compressor,
    drain,
    indoor_board,
    outdoor_board,
    refrigerant_circuit,
    sensors,
    signal_line,
    supply,
    valves,
)
from tests.field.faults.fault import Fault

FAULTS: tuple[Fault, ...] = (
    *supply.FAULTS,
    *outdoor_board.FAULTS,
    *compressor.FAULTS,
    *signal_line.FAULTS,
    *indoor_board.FAULTS,
    *refrigerant_circuit.FAULTS,
    *valves.FAULTS,
    *air_and_house.FAULTS,
    *sensors.FAULTS,
    *drain.FAULTS,
)
BY_ID = {fault.id: fault for fault in FAULTS}

__all__ = ["BY_ID", "FAULTS", "Fault"]
