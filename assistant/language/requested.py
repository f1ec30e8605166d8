"""What is asked to be checked, in any frame a request comes in: "let's megger the compressor", "float switch next".

A request is a frame (who wants it, a verb of checking, "next" and "please" behind it) around the name of a check or of
a component. The frame is taken off word by word; what is left is held against all names as notions of the trade.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from assistant.language.meaning import Choice
from assistant.language.notions import SMALL, shipped
from assistant.language.own_words import stem
from assistant.language.subjects import NO_PART
from assistant.language.written import as_words

#: So much of the words and of a name must be the same.
_SAME_NAME = 0.65
#: Of so many it can be asked which.
_FEW = 3
#: Who wants it, and how he says so: nothing but a request stands behind most of these.
_WANTS = (
    r"(?:i|we)(?:'d| would)?(?: really| just| sooner| rather)*(?: want to| wanna| want you to have me| need to"
    r"| ought to| should| like to| love to| prefer to| better| want| need| prefer| sooner| rather)"
    r"|(?:i'd|we'd) (?:rather|sooner|like|prefer|better)(?: to)?|let's|let us|let me|lemme|can we|could we|can you"
    r"|could you|can i|could i|shall we|why don't we|mind if (?:i|we)"
    r"|would you mind if (?:i|we)|i think we should|i say we|i vote(?: we| for)?|have me|want me to"
    r"|it's time (?:to|for)|time (?:to|for)|i'm ready (?:to|for)|ready (?:to|for)|i'm thinking|bring on|give me"
)
#: Said of another time, or of what is done anyway: a weaker sign.
_MAY_WANT = r"i'll|we'll|i'm gonna|i'm going to|we're gonna|gonna|going to"
_VERBS = (
    r"check(?: out| on| over| into)?|test(?: out)?|look at|look over|look into|take a (?:look|peek) at|have a look at"
    r"|take a reading (?:on|of|at)|get a reading (?:on|of|at)|have a look|inspect|examine|measure|verify|probe"
    r"|(?:go|jump|skip|move|switch|cut|hop|get|turn|head)(?: right| straight| over| on| back| ahead| me)*"
    r"(?: to| for| with)"
    r"|(?:take|bring|get|put|walk) (?:me|us) (?:right |straight |over )?(?:to|on|through)|start (?:off )?with"
    r"|begin with|do|try|pull up|bring up|run(?: me)? through|run|go over|see about|straight to|back to|head to"
    r"|onto|on to|over to|show me|go check|go test|go see|do a|rule out|knock out|confirm|trouble ?shoot"
)
#: What is measured with a verb of its own: "meg the compressor", "ohm out the coil".
_MEASURES = {
    "meg": "megger",
    "megger": "megger",
    "ohm": "ohms",
    "ohm out": "ohms",
    "sniff": "sniff for a leak",
    "leak check": "leaks",
    "leak test": "leaks",
}
#: Said of many another thing too: only a whole name behind them is a request.
_DOING = "checking(?: out| on| over)?|testing|looking (?:at|over)|measuring|verifying|inspecting|doing|trying"
_LOOSE = r"look for|hunt(?: for| down)?|search(?: for)?|find|track down|chase(?: down)?|take|get|grab|pull|read|see"
_OFFERS = r"how about(?: we)?|what about(?: we)?|why not"
_FILL = (
    r"so|okay|ok|alright|all right|well|hey|um|uh|now|then|next|first|maybe|just|please|and|yeah|actually|go ahead and"
)
_ARTICLE = r"the|my|a|an|another|that|this|some|these|those|our"
_HEAD = re.compile(
    rf"^(?:(?P<wants>{_WANTS})|(?P<maywant>{_MAY_WANT})|(?P<offers>{_OFFERS})"
    rf"|(?P<measures>{'|'.join(sorted(_MEASURES, key=len, reverse=True))})"
    rf"|(?P<verb>{_VERBS}|{_DOING})|(?P<loose>{_LOOSE})|(?P<fill>{_FILL})|(?P<article>{_ARTICLE}|go|to|on|it's|for|of))\s+"
)
_TAIL = re.compile(
    r"\s+(?:(?P<asks>next(?: up)?|first|please|instead|comes next|is next|goes next|would be next|is what i want"
    r"|before anything else|if you (?:please|would|don't mind)|is up)|(?P<may>now|go|then|right now|let's go)"
    r"|(?P<does>test|check|look|reading|readings|measurement|for me|with me|again|too|out|over|thing|real quick|quick"
    r"|one|part|step|procedure|here))$"
)
#: A reason before or behind the request.
_REASON_BEFORE = re.compile(
    r"^(?:before|while|since|now that|as long as|seeing as|because|after|when|if|unless|until)\b"
    r"(?:[^,]*,\s*|.*?\s(?=(?:i'd|we'd|i want|i need|let's|let me|can we|could we|we should|i would)\b))"
)
_REASON = re.compile(
    r"(?:[,;:.]|\s+-+)\s+.*$"
    r"|\s+(?:because|cause|'cause|cuz|since|so (?:i|we|that)|to (?:make sure|rule|be sure|find out)"
    r"|to see (?:if|whether|what|how)|before (?:we|i|you)"
    r"|while (?:i'm|we're|i|we)|as long as|now that|and see|just to|in case|if (?:that's|you|we|it|i)"
    r"|and get it|and be done|it's (?:right|easy|the easiest)|that's the|i (?:think|bet|have|got|suspect))\b.*$"
)
#: What is said before, or while he looks for a word.
_LEADS = re.compile(
    r"^(?:(?:okay|ok|alright|all right|so|well|hey|yeah|now|um|uh|oh|and|look|listen|tell you what|you know what|right"
    r"|here's what|here's a thought|i'll tell you what|say)[,:]?\s+)+"
)
_THINKING = re.compile(
    r",?\s*\b(?:whatsit|whatchamacallit|what's it called|what do you call it|whaddya call it|thingamajig|you know|er"
    r"|uh|um)\b(?:,\s*|\s+|$)"
)
#: The name first, the request behind it: "outdoor board, let's look at that one now".
_ASKS_FOR_IT = r"(?:let's|let me|lemme|i'd|i want|i wanna|can we|could we|we should|why don't we|i would)\b[^,]*?"
_NAME_FIRST_COMMA = re.compile(rf"^(?P<name>[^,]+),\s*(?P<rest>{_ASKS_FOR_IT}\b(?:that|it|this)\b)")
_NAME_FIRST = re.compile(
    rf"^(?P<name>(?!let|i\b|i'|can|could|we|why)[^,]+?) (?P<asks>{_ASKS_FOR_IT}) (?:that|it|this)(?: one)?"
    r"(?P<when> now| next| first| please| instead)?$"
)
#: Something is told of it, and it is not asked for: "the board's soaking wet right now".
_IS_TOLD = re.compile(r"\b(?:is|are|was|were|has|have|just)\b|\w's \w")
_DENIED = re.compile(
    r"\b(?:not|no|never|don't|doesn't|didn't|can't|won't|haven't|isn't|already|done|did|skip the|without|your)\b"
)
_ASKS = re.compile(
    r"^(?:what|which|where|when|why|how|who|is|are|was|were|do(?! (?:the|a|an|my)\b)|does|did"
    r"|has|have|had|will|would|am)\b"
    r"(?! about| don't| not| you mind)"
)
#: Of so few words a name is, with what is said of it: longer talk only mentions it.
_MOST_WORDS = 5


@dataclass(frozen=True)
class Asked:
    """The ``name`` within a request, all that it may be behind (``orders``), and what is ``measured`` by its verb.

    ``announced``: he may rather tell what he does himself ("I'll check the filter").
    ``sure``: it has a verb of checking; ``asks``: "next" or "please" is said of it; else its whole name must be said.
    """

    name: str
    sure: bool
    asks: bool
    measured: str = ""
    orders: tuple[str, ...] = ()
    announced: bool = False


def asked_for(words: str) -> Asked | None:
    """The name of what is asked for, without the frame around it; None where nothing is asked for."""
    text = _plain(words)
    if not text or _DENIED.search(text) or _ASKS.match(text):
        return None
    orders = [text]
    wants = verb = loose = asks = announced = may = False
    measured = ""
    while (found := _HEAD.match(text)) is not None:
        wants |= found["wants"] is not None
        announced |= found["maywant"] is not None
        verb |= found["verb"] is not None
        loose |= found["loose"] is not None
        asks |= found["fill"] in ("next", "first", "please") or found["offers"] is not None
        measured = measured or _MEASURES.get(found["measures"] or "", "")
        text = text[found.end() :]
        orders.append(text)
    while (tail := _TAIL.search(text)) is not None and len(text.split()) > 1:
        asks |= tail["asks"] is not None
        may |= tail["may"] is not None
        verb |= tail["does"] in ("test", "check", "reading", "readings", "measurement")
        text = text[: tail.start()].rstrip(" ,")
        orders.append(text)
    framed = wants or verb or asks or may or bool(measured)
    if may and not (wants or verb or asks or loose or measured) and _IS_TOLD.search(text):
        return None
    if not text or not (framed or loose) or len(text.split()) > _MOST_WORDS:
        return None
    return Asked(
        text, bool(measured) or verb, asks and not loose, measured, tuple(orders), announced and not (wants or asks)
    )


def _plain(words: str) -> str:
    text = re.sub(r"\s+", " ", words.lower().replace("’", "'")).strip(" .?!,;")
    text = _THINKING.sub(" ", text)
    text = _LEADS.sub("", text)
    text = _NAME_FIRST_COMMA.sub(r"\g<name> \g<rest>", text)
    text = _REASON_BEFORE.sub("", text)
    text = re.sub(r",\s*(?=(?:please|next|first|now|instead|then)\s*(?:$|[,.;]))", " ", text)
    text = _REASON.sub("", text).strip(" .?!,;")
    first = _NAME_FIRST.match(text)
    return f"{first['asks']} {first['name']} {first['when'] or ''}".strip() if first is not None else text


def targets_within(words: str, checks: tuple[Choice, ...]) -> list[tuple[str, str]]:
    """What of ``checks`` is asked for: "named" word by word, by its "whole" name, by "most" of it or "part".

    "alone": nothing but the name was said, of at least two words; "told": he may only tell what he does.
    """
    alone = as_words(words).removeprefix("the ")
    named = [check.id for check in checks if " " in alone and alone in check.phrases]
    if named:
        return [(target, "alone") for target in named]
    asked = asked_for(words)
    if asked is None:
        return []
    name = f"{asked.name} {asked.measured}".strip()
    orders = {as_words(one) for one in asked.orders}
    exact = [check.id for check in checks if as_words(name) in check.phrases]
    exact = exact or [check.id for check in checks if not asked.measured and orders.intersection(check.phrases)]
    if exact:
        return [(exact[0], "told" if asked.announced else "named")]
    said = _notions(name)
    if asked.announced or not said - NO_PART:
        return []
    scored = [
        (2 * len(said & called) / (len(said) + len(called)), target)
        for target, called in _names(checks)
        if (said & called) - NO_PART
    ]
    best = max((score for score, _ in scored), default=0.0)
    if best < 1 - 1e-9 and not (asked.sure or asked.asks):
        return []
    if best < _SAME_NAME:
        return _by_part(said, checks) if asked.sure else []
    likeness = "whole" if best > 1 - 1e-9 else "most"
    return list(dict.fromkeys((target, likeness) for score, target in scored if score > best - 1e-9))[:_FEW]


def _by_part(said: frozenset[str], checks: tuple[Choice, ...]) -> list[tuple[str, str]]:
    """The shortest names that hold all that was said, or of which all was said; checks before components."""
    for fits in (frozenset.issubset, frozenset.issuperset):
        parts = [
            (len(called), ":" in target, target) for target, called in _names(checks) if called and fits(said, called)
        ]
        if parts:
            short = min(parts)[0]
            ranked = sorted((one for one in parts if one[0] == short), key=lambda one: one[1])
            return [(target, "part") for target in dict.fromkeys(target for _, _, target in ranked)][:_FEW]
    return []


def _notions(name: str) -> frozenset[str]:
    said = {notion for notion in shipped().notions(name) if notion not in SMALL and notion not in _NO_NAME}
    if _INSTRUMENT in said:  # one is not another here
        said.remove(_INSTRUMENT)
        said |= {stem(word) for word in name.split() if shipped().notions(word) == [_INSTRUMENT]}
    return frozenset(said)


_INSTRUMENT = "+meter"
#: Stems that name nothing.
_NO_NAME = frozenset(
    ["th", "+all", "whol", "again", "too", "bit", "stuff", "thing", "then", "+now", "out", "over", "cycl"]
)


@lru_cache(maxsize=8)
def _names(checks: tuple[Choice, ...]) -> tuple[tuple[str, frozenset[str]], ...]:
    return tuple((check.id, _notions(phrase)) for check in checks for phrase in check.phrases)
