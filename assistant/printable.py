"""Text from people and files on its way to a terminal: nothing in it may steer the terminal."""

from __future__ import annotations

import unicodedata

#: Control characters, format characters (they turn the direction of writing), lone surrogates, line and paragraph ends.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})


def printable(text: str) -> str:
    """``text`` with everything that is no sign to be seen shown as its number: ``\\x1b``, ``\\u202e``."""
    if text.isprintable():
        return text
    return "".join(sign if unicodedata.category(sign) not in _UNSEEN else _number(sign) for sign in text)


def _number(sign: str) -> str:
    code = ord(sign)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
