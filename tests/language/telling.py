"""A meaning as one short line, so that tables of sentences can be read and written by hand.

u-v=4.2 v-w=4.1 | OL | 4..5 | finding yes | command why | correction 4.8 | nothing
"""

from __future__ import annotations

from assistant.language.meaning import (
    Calculation,
    Command,
    Correction,
    Finding,
    Indication,
    Interpretation,
    Meaning,
    Reading,
    Readings,
    Text,
)

_SPECIAL = {"open_line": "OL", "no_reading": "none", "unstable": "unsteady"}


def told(meaning: Meaning | None) -> str:
    match meaning:
        case None:
            return "nothing"
        case Readings(items=items):
            return " ".join(_reading(item) for item in items)
        case Finding(choice=choice):
            return f"finding {choice}"
        case Indication(choice=choice):
            return f"indication {choice}"
        case Command(name=name, argument=argument):
            return f"command {name} {argument}".strip()
        case Correction(meaning=inner):
            return f"correction {told(inner)}" if inner is not None else "correction"
        case Calculation(name=name, values=values):
            return f"sum {name} " + " ".join(f"{key}={_reading(value)}" for key, value in values)
        case Text(words=words):
            return f"text {words}"
    raise AssertionError(meaning)


def _reading(reading: Reading) -> str:
    if reading.span is not None:
        value = "..".join(f"{end:.6g}" for end in reading.span)
    elif reading.special is not None:
        value = _SPECIAL[reading.special]
    else:
        assert reading.value is not None
        value = f"{reading.value:.9g}"
    return f"{reading.place}={value}" if reading.place else value


def heard(found: Interpretation) -> str:
    """The meaning, with "?" behind it when it is doubtful."""
    return told(found.meaning) + (" ?" if found.doubt else "")
