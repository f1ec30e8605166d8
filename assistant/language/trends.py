"""How a reading was at earlier visits, asked for in plain words: "trend of the superheat", "how was that last time"."""

from __future__ import annotations

import re

from assistant.language.meaning import Choice, Command
from assistant.language.requested import targets_within

_SHOW = r"(?:(?:what(?:'s| is)|show me|give me|tell me|read(?: me)?)\s+)?(?:the\s+)?"
_ASKS = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        _SHOW + r"(?:trend|history)\s+(?:of|for|on|in)\s+(?P<what>.+)",
        _SHOW + r"(?P<what>.+?)\s+trend",
        r"(?:how|what)\s+(?:was|were|did)\s+(?P<what>.+?)\s+(?:(?:like|read|show)\s+)?"
        r"(?:the\s+)?(?:last\s+(?:time|visit|year)|before)",
    )
)
#: What is under way, or was measured last.
_THIS = re.compile(r"(?:that|this|it|that one|this one|that reading|this reading|the reading)", re.IGNORECASE)
#: "What was my reading before" asks for what was said in this visit.
_SAID_BEFORE = re.compile(r"(?:how|what)\s+(?:was|were)\s+my\b.*\bbefore$", re.IGNORECASE)
#: How well a check must be named.
_NAMED = ("alone", "named", "whole", "most")


def trend_asked(words: str, checks: tuple[Choice, ...]) -> Command | None:
    """The command with the check that is named, "" for what is under way; None where nothing of the kind is asked."""
    plain = words.strip().rstrip(" .?!")
    for ask in _ASKS:
        found = ask.fullmatch(plain)
        if found is None:
            continue
        if _SAID_BEFORE.match(plain):
            continue
        what = re.sub(r"^(?:the|my|our)\s+", "", found["what"].strip(), flags=re.IGNORECASE)
        if _THIS.fullmatch(what):
            return Command(name="trend")
        named = [target for target, likeness in targets_within(f"check {what}", checks) if likeness in _NAMED]
        if named:
            return Command(name="trend", argument=named[0])
    return None
