"""What sort of sentence it is, by plain signs: asked or told, and whether anybody says that something cannot be done.

The net holds meanings against each other and hears little of these: "do good ones always click" lies near "yes, it
clicks". Each sort of meaning is weighed by its sign. Set on clauses kept apart.
"""

from __future__ import annotations

import re

#: Words before the first that counts.
_LEADS = re.compile(r"^(?:(?:so|and|okay|ok|hey|well|um|uh|oh|alright|all right|but|yeah|wait|sorry|now|huh)[\s,]+)*")
_ASKS = re.compile(
    r"^(?:what|which|where|how|why|when|who|whose|is|are|am|do|does|can(?!')|could|should|would|will|was|were|what's|whats"
    r"|how's|where's|which's|you want|you sure|show me|walk me|tell me|remind me|read me|any|anything)\b|\?\s*$"
    r"|\b(?:don't|doesn't|didn't|isn't|aren't|ain't|won't|wasn't|right|do|does|is) (?:it|they|you|that|these|those)\s*$"
    r"|,? or (?:is|are|do|does) (?:it|they|that)\b|\b(?:what's that|what is that"
    r"|on or off|hot or dead|live or dead|or dead|how do i|what do i|do i|what did i)\b"
)
_CANNOT = re.compile(
    r"\b(?:can't|cannot|can not|couldn't|cant|unable|not able|impossible|don't know|do not know|dunno|no idea|a clue"
    r"|no clue|not sure|hard to|haven't|hasn't|ain't|don't have|doesn't have|don't carry|don't own|didn't bring"
    r"|not visible|there isn't|there is no|there's no|there are no|isn't (?:one|any)|not (?:now|today|yet|right|there)"
    r"|later|too|no|never|left my|forgot|won't|out of reach|beats me|who knows|search me|dead|broken|without"
    r"|wouldn't know|hidden|covered|behind|locked|stolen|borrowed|another time|at the end|has to wait|rather)\b"
)
#: Of another time, or of every time: what is told so is no cry for help.
_ANOTHER_TIME = re.compile(
    r"\b(?:yesterday|last (?:night|week|weekend|month|year|time|summer|winter|spring|fall|\w+day)|the other day|earlier"
    r"|(?:days?|weeks?|months?|years?) ago|before i got here|used to|sometimes|now and then|every (?:time|now|day|so)"
    r"|each time|whenever|(?:when|if) you touch)\b"
)
#: Power that is there, or a lock that is not; "my lock is on" is another thing.
_POWER = re.compile(
    r"\b(?:live|hot|volts?|voltage|energi[sz]ed|powered|running|humming)\b"
    r"|(?<!lock )(?<!tag )\b(?:is|it's|still|came|comes|back|switched|turned) on\b"
    r"|\b(?:lock|tag)(?: is|'s| came)? (?:off|gone|missing)\b"
)
#: A machine that runs at this moment.
_RUNS = re.compile(
    r"\b(?:is|are|it's|she's|they're|still|keeps|hear|see)\b[^.?]*\b(?:running|humming|live|energi[sz]ed|powered up)\b"
)
_THEN = re.compile(r"\b(?:was|were|when|if|before|until|used)\b")
_DENIED = re.compile(
    r"\b(?:no|not|never|none|cannot|almost|nearly|half|partly|yet|later|soon|wrong|except|unless|forgot|trying)\b"
    r"|\b(?:about|going|need|want|have|got) to\b|\b(?:gonna|will|should|let me|unlocked)\b|'ll\b|n't\b"
)
#: A lock that was taken off, by whomever and for however short a time.
_UNLOCKED = re.compile(
    r"\b(?:take|took|taken|pull|pulled|pop|popped|lift|lifted|had)\b[^.?]*\b(?:pad)?(?:locks?|tags?)\b[^.?]*\boff\b"
    r"|\b(?:take|took|taken|pulled|popped|had) off\b[^.?]*\b(?:pad)?(?:locks?|tags?)\b"
    r"|\b(?:removed?|cut|unlocked)\b[^.?]*\b(?:pad)?(?:locks?|tags?|disconnect|breaker)\b"
    r"|\b(?:pad)?(?:locks?|tags?)(?:'s| has| is| was| were| got| have)?(?: been| just)?"
    r" (?:taken off|removed|cut|pulled off|fallen off)\b"
)
#: Of a lock: it stayed where it hangs.
_NEVER = re.compile(r"\b(?:never|haven't|hasn't|didn't|not been|nobody)\b")
#: A meter of which is told that it had shown nothing.
_METER_WAS_BAD = re.compile(
    r"\b(?:meter|tester|probes?)\b[^.?]*\b(?:(?:was|were|has been|had been) (?:all along )?(?:bad|dead|broken|faulty"
    r"|flat|off|no good|not (?:good|working|on))|(?:wasn't|weren't) (?:good|working|on|right))\b"
)
#: The source on which a meter is tried.
_SOURCE = re.compile(
    r"\b(?:a|an|the|that|my|another|some|any|known)\s+(?:known\s+)?(?:live|hot|good)\s+(?:ac\s+)?"
    r"(?:one|source|outlet|receptacle|socket|circuit|supply|panel|plug|breaker)\b"
)
_NO_POWER = re.compile(r"\b(?:no|not|zero|without|nothing|dead|isn't|ain't)\b")
#: Light that is there: what is told so is not dark, unless it is denied.
_LIGHT = r"(?:blink\w*|flash\w*|glow\w*|lit|lights? up|light is on|lights are on)"
_LIT = re.compile(rf"\b{_LIGHT}\b")
_NOT_LIT = re.compile(rf"(?:\b(?:no|not|never|nothing|quit|stopped|without|neither)|n't)\W+(?:\w+\W+){{0,3}}{_LIGHT}\b")
#: What a sort of meaning loses without its sign, or by the wrong one.
_ASKED_ANSWER = 0.3
_TOLD_QUESTION = 0.4
_WITHOUT_CANNOT = 0.35
_EMERGENCY_OF_OLD = 0.3
_DARK_THAT_IS_LIT = 0.1
_POWER_BY_A_LOCK_THAT_STAYED = 0.05


def sign(key: str, words: str) -> float:
    """The factor by which the signs of a sentence change the chance of ``key``: 1 where they speak for nothing."""
    kind = "answer" if "=" in key else key.partition(":")[0]
    asks = is_asked(words)
    if kind in ("answer", "indication") and asks:
        return _ASKED_ANSWER
    if kind == "ask" and not asks:
        return _TOLD_QUESTION
    if kind == "cannot" and (asks or not _CANNOT.search(words)):
        return _WITHOUT_CANNOT
    if kind == "emergency" and _ANOTHER_TIME.search(words.lower()):
        return _EMERGENCY_OF_OLD
    if key.endswith(("-dark", ":dark")) and _is_lit(words.lower()):
        return _DARK_THAT_IS_LIT
    if key == "command:power-back" and _UNLOCKED.search(words.lower()) and _NEVER.search(words.lower()):
        return _POWER_BY_A_LOCK_THAT_STAYED
    return 1.0


def speaks_of_power(words: str) -> bool:
    """Whether words say that power is there ("it still reads voltage"), and not that it is gone."""
    said = words.lower()
    return _POWER.search(said) is not None and _NO_POWER.search(said) is None


def without_source(words: str) -> str:
    """``words`` without the live source that they name: "it reads right on the live outlet"."""
    return _SOURCE.sub(" ", words.lower())


def denies(words: str) -> bool:
    """Whether something is denied, or not wholly so ("not locked yet", "almost done")."""
    return _DENIED.search(words.lower()) is not None


def runs_now(words: str) -> bool:
    """Whether words tell of a machine that runs or is live at this moment: behind a lock nothing does."""
    said = words.lower()
    known = _NO_POWER.search(said) or _THEN.search(said) or _ANOTHER_TIME.search(said) or is_asked(said)
    return _RUNS.search(said) is not None and not known


def nothing_holds(words: str) -> bool:
    """Whether words tell that the lock was off, or that the meter was bad: what was shown by them counts no more."""
    said = words.lower()
    if is_asked(said) or _ANOTHER_TIME.search(said):
        return False
    unlocked = _UNLOCKED.search(said) is not None and not denies(said.replace("unlocked", "opened"))
    return unlocked or _METER_WAS_BAD.search(said) is not None


def is_asked(words: str) -> bool:
    """Whether the sentence is a question or a request to be told."""
    return _ASKS.search(_LEADS.sub("", words.lower(), count=1)) is not None


def _is_lit(words: str) -> bool:
    return _LIT.search(words) is not None and _NOT_LIT.search(words) is None
