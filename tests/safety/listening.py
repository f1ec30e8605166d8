"""What the onlooker makes of spoken cautions: each by its own words, whole or as a reminder."""

from __future__ import annotations

import re
from functools import lru_cache

#: A caution's topic, the words of it whole (its order at least), and those of its reminder.
_TOPICS: tuple[tuple[str, str, str], ...] = (
    ("lock", r"\bopen\b.*\block\b.*\btag\b", ""),
    ("as live", r"\bas live\b.*\bgloves\b.*\bmeter\b", ""),
    ("live", r"(\bis live\b|^live\.).*\bgloves\b", r"\bit is live\b"),
    ("rated meter", r"\b(meter and leads are rated|rated meter and leads)\b", r"\brated meter\b"),
    ("one hand", r"\bone (lead|hand)\b.*\b(hand|clipped|hold)\b", r"\bone hand\b"),
    ("fan", r"\bfan can start\b", r"\bthe fan\b"),
    ("ladder", r"\bladder\b.*\btied\b.*\bnon-conductive\b", r"\bladder\b"),
    ("edge", r"\bnear an edge\b.*\bclip\b|\bclip on at edges\b", r"\bthe edge\b"),
    ("500 V", r"\bfive hundred volts\b.*\bhands off\b", ""),
    (
        "before power",
        r"(\bcovers (are )?on\b|\bopen\b.*\blive\b).*\btools (are )?out\b.*\bnobody\b",
        "",
    ),
    ("insulation only", r"\bclamp\b.*\binsulation\b", r"\binsulation only\b"),
    ("panel flash", r"\barc-rated clothing\b.*\bface shield\b", r"\barc-rated clothing\b"),
    ("incoming side", r"\bincoming side\b.*\blive\b", r"\bincoming side live\b"),
    ("signal mains", r"\bsignal terminals can carry mains\b", r"\bcan carry mains\b"),
    ("pour", r"\b(pour slowly|only into the pan)\b", r"\bpour slowly\b"),
    ("braze", r"\bempty\b.*\bpurged\b.*\bnitrogen flowing\b.*\b(someone watching|fire watch)\b", ""),
    ("burns", r"\bburns\b.*\b(spark|aired|air the)\b", r"\bit burns\b"),
    ("recover", r"\brecover\b.*\bvent\b", ""),
    ("goggles", r"\bgoggles and gloves\b", r"\bgoggles and gloves\b"),
    ("fresh air", r"\bkeep the room open\b", r"\bfresh air\b"),
    ("nitrogen", r"\bdry nitrogen\b.*\bregulator\b", ""),
    ("face aside", r"\bterminals?\b.*\bblow out\b.*\bface aside\b", r"\bface aside\b"),
    ("no shorting", r"\bnever short\b", r"\bno shorting\b"),
    ("burn", r"\bcan burn you\b|\bprobe, not hand\b", r"\bhot pipe\b"),
    ("stored charge", r"\bcapacitors (still hold|may be charged)\b", ""),
    ("water and live", r"(\bwater and voltage\b|^dry gloves\b).*\bone hand\b", ""),
    ("pump down", r"\bnever\b.*\binto a vacuum\b", r"\bnever into a vacuum\b"),
    ("sharp", r"\bfins\b.*\bcut\b", r"\bsharp fins\b"),
)
_COMPILED = tuple((topic, re.compile(whole), re.compile(short) if short else None) for topic, whole, short in _TOPICS)
_REMINDER = re.compile(r"^mind: ")


@lru_cache(maxsize=1024)
def topics(text: str) -> tuple[tuple[str, bool], ...]:
    """The topics of a spoken caution, each with whether it was said whole."""
    said = text.lower()
    if _REMINDER.match(said):
        return tuple((topic, False) for topic, _, short in _COMPILED if short and short.search(said))
    return tuple((topic, True) for topic, whole, _ in _COMPILED if whole.search(said))
