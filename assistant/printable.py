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


#: What a terminal may be said to write where its letters are those of UTF-8 or Latin-1.
_WESTERN = frozenset({"utf-8", "ascii", "iso8859-1", "iso8859-15", "cp1252"})


@runtime_checkable
class _Reconfigured(Protocol):
    encoding: str

    def reconfigure(self, *, encoding: str | None = None, errors: str | None = None) -> Any: ...


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
    """Standard input and output take any text: what they cannot show is spelt, what is no UTF-8 is read as Latin-1.

    A name that is piped in is UTF-8 nearly always, whatever the terminal is said to be; a byte that does not fit is an
    accented letter of an old terminal.
    """
    codecs.register_error("spelt", _spelt)
    codecs.register_error("latin", _latin)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, _Reconfigured):
            stream.reconfigure(errors="spelt")
    if isinstance(sys.stdin, _Reconfigured):
        known = codecs.lookup(sys.stdin.encoding).name in _WESTERN
        sys.stdin.reconfigure(encoding="utf-8" if known else None, errors="latin" if known else "replace")


def _latin(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeDecodeError):
        raise error
    return error.object[error.start : error.end].decode("latin-1"), error.end


def _spelt(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(_SPELT.get(sign) or _escaped(sign) for sign in signs), error.end


def _escaped(sign: str) -> str:
    """As JSON writes it, so that JSON stays JSON."""
    units = sign.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at]:02x}{units[at + 1]:02x}" for at in range(0, len(units), 2))
