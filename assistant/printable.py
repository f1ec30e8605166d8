"""Text on its way to a terminal: nothing in it may steer the terminal, and every terminal must be able to show it."""

from __future__ import annotations

import codecs
import sys
import unicodedata
from typing import Any, Protocol, runtime_checkable

#: Signs of the trade and of good writing, for a terminal that has them not.
_SPELT = {
    "Ω": "ohm",
    "µ": "u",
    "μ": "u",
    "°": " deg",
    "√": "sqrt ",
    "Δ": "delta ",
    "→": "->",
    "·": "*",
    "±": "+/-",
    "≤": "<=",
    "≥": ">=",
    "×": "x",
    "²": "2",
    "³": "3",
    "₂": "2",
    "–": "-",
    "—": "-",
    "−": "-",
    "…": "...",
    "“": '"',
    "”": '"',
    "‘": "'",
    "’": "'",
    " ": " ",
}

#: Control characters, format characters (they turn the direction of writing), lone surrogates, line and paragraph ends.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})


@runtime_checkable
class _Reconfigured(Protocol):
    def reconfigure(self, *, errors: str) -> Any: ...


def printable(text: str) -> str:
    """``text`` with everything that is no sign to be seen shown as its number: ``\\x1b``, ``\\u202e``."""
    if text.isprintable():
        return text
    return "".join(sign if unicodedata.category(sign) not in _UNSEEN else _number(sign) for sign in text)


def _number(sign: str) -> str:
    code = ord(sign)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def short(text: str, most: int = 200) -> str:
    """``text``, its middle left out where it is longer: what somebody pasted must not fill the screen."""
    return text if len(text) <= most else f"{text[: most * 2 // 3]} … {text[-most // 3 :]}"


def any_terminal() -> None:
    """Standard input and output take any text: what they cannot show is spelt, what they cannot read is marked."""
    codecs.register_error("spelt", _spelt)
    for stream, errors in ((sys.stdout, "spelt"), (sys.stderr, "spelt"), (sys.stdin, "replace")):
        if isinstance(stream, _Reconfigured):
            stream.reconfigure(errors=errors)


def _spelt(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(_SPELT.get(sign) or _escaped(sign) for sign in signs), error.end


def _escaped(sign: str) -> str:
    """As JSON writes it, so that JSON stays JSON."""
    units = sign.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))
