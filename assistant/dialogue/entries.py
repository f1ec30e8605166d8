"""An entry of the ledger in words."""

from __future__ import annotations

from assistant.job.ledger import Entry
from assistant.language.meaning import Reading
from assistant.messages.catalogue import number
from assistant.messages.message import Message, message
from assistant.quantities.table import sign


def entry_message(entry: Entry) -> Message:
    """An entry as it is read back."""
    match entry.what:
        case "note":
            return message("entry-note", text=entry.text)
        case "part":
            count = number(entry.count)
            if entry.source:
                return message("entry-part-from", count=count, text=entry.text, source=entry.source)
            return message("entry-part", count=count, text=entry.text)
        case "charged" | "recovered":
            if entry.cylinder:
                return message(f"entry-{entry.what}-cylinder", mass=_mass(entry), cylinder=entry.cylinder)
            return message(f"entry-{entry.what}", mass=_mass(entry))
        case "travel":
            return message("entry-travel", minutes=number(entry.minutes or 0))
    return message(f"entry-{entry.what}")


def _mass(entry: Entry) -> str:
    kg = f"{entry.kg:.3g} kg"
    return f"{entry.spoken}, {kg}" if entry.spoken and not entry.spoken.endswith("kg") else kg


def said_reading(item: Reading) -> str:
    """A reading as it was said, to be kept as text: "8.2 °F"."""
    value = item.spoken_value if item.spoken_value is not None else item.value
    return f"{number(value)} {sign(item.spoken_unit)}".strip() if value is not None else ""
