"""Each question of the program as a query of the world, one file a system."""

from tests.field.questions import circuit, electronics, indoor, lines, people, power, sensors, water
from tests.field.questions.entry import Entry

TABLE: dict[str, Entry] = {
    **power.TABLE,
    **electronics.TABLE,
    **lines.TABLE,
    **indoor.TABLE,
    **water.TABLE,
    **circuit.TABLE,
    **sensors.TABLE,
    **people.TABLE,
}
#: Questions that no unit of the simulator can be asked.
NONE_HERE = power.NONE_HERE
#: Questions whose answer is the technician's own doing.
ALWAYS = {**circuit.ALWAYS, **power.ALWAYS}

__all__ = ["ALWAYS", "NONE_HERE", "TABLE", "Entry"]
