"""Writes ``grammars/units.jsgf`` from the table of quantities: ``python -m assistant.language.unit_rules``.

The file stands beside the other grammars so that all of them can be read in one place; a test holds it to the table.
"""

from __future__ import annotations

from typing import get_args

from assistant.data.places import data_folder
from assistant.language.meaning import Quantity
from assistant.quantities.table import QUANTITIES

FILE = "units.jsgf"
_HEAD = """\
#JSGF V1.0 UTF-8 en;
grammar units;

/* One rule for each quantity that can be read aloud, made from assistant/quantities by
   python -m assistant.language.unit_rules; not written by hand. The tag is the unit's symbol; {unit degrees} is a
   degree whose scale was not said. */
"""


def rules() -> str:
    """The whole file."""
    return "\n".join([_HEAD, *(_rule(quantity) for quantity in get_args(Quantity))])


def _rule(quantity: str) -> str:
    kind = QUANTITIES[quantity]
    said = [(kind.unsaid, kind.unsaid[-1])] if kind.unsaid else []
    said += [(tuple(dict.fromkeys(unit.phrases)), unit.symbol) for unit in kind.units if unit.phrases]
    ways = [f"({' | '.join(phrases)}) {{unit {tag}}}" for phrases, tag in said]
    return f"public <{quantity}> = {ways[0]}" + "".join(f"\n  | {way}" for way in ways[1:]) + ";\n"


if __name__ == "__main__":
    (data_folder("grammars") / FILE).write_text(rules(), encoding="utf-8")
