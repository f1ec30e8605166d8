"""What hands do in a step, read from its words alone: verbs and the objects they act on, and where these are."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

Kind = Literal[
    "handle",  # electrical parts are pulled, tugged, turned, changed
    "meter-dead",  # ohms, diodes, capacitance: probes on metal that must be dead
    "insulation",  # an insulation tester puts its own high voltage out
    "volts",  # probes where there may be voltage: to see it, or to see it gone
    "clamp",  # a clamp meter around a conductor, the unit running
    "cover",  # a cover comes off behind which metal may be live
    "moving",  # fingers or a rod where a fan turns
    "flame",
    "open-circuit",  # refrigerant pipes are cut, flared, parted
    "gauge",  # a hose with pressure
    "recover",
    "charge",  # refrigerant is weighed in
    "nitrogen",
    "evacuate",
    "water",
    "power-on",  # the power is closed, or what tripped is reset
    "run",  # the machine runs, or is asked to
]
Place = Literal["outdoor", "indoor", "signal", "line", "supply"]

#: Words that say that hands stay away, or that tell what is not to be done.
_NOT = re.compile(
    r"\b(never|do not|don't|not|nothing|none|look only|no more|before you|photograph|still|capped apart|electrician)\b"
    r"|\bhands off\b"
)

_PART = (
    r"(plugs?|connectors?|adapter|terminals?|wires?|conductors?|leads?|cables?|cable's|pins?|board|motor|module|relay|"
    r"resistor|capacitors?|fuse|rectifier|reactor|overload|sensors?|display|float|pump|heater|switch|bearing)"
)
_ACT = (
    r"(pull|unplug|unclip|tug|seat|press|push|draw|renew|fit|mend|change|replace|remake|clean|cut|move|put|tighten|swap|"
    r"clip|take|tie|free|zero|cross)"
)
_PATTERNS: tuple[tuple[Kind, str], ...] = (
    ("handle", rf"\b{_ACT}\b(?! (?:the |each |its )?(?:filter|hose|caps?|paper))[^.;]{{0,60}}?\b{_PART}\b"),
    ("handle", r"\btug\b|\bunplug(ged)?\b|\bunclip\b|\bjoints?\b[^.;]{0,20}\bout\b"),
    ("handle", r"\b(plugs?|leads?|wires?|conductors?|pair|clips)\b[^.,]{0,28}\boff\b"),
    ("handle", r"\bpair\b[^.;]{0,12}\boff\b|\bclip (the pair|one)\b|\bcoil off\b|\blift the coil\b|\bpress the coil\b"),
    ("handle", r"\brenew the coil and (press|fit)|\bdriver to\b|\btry every screw\b|\bwith the (board|bus) dead\b"),
    ("handle", r"\bre-hang\b|\bdrill\b|\bheat paste\b|\bcap off\b[^.;]{0,30}\bterminals\b|\bchange the compressor\b"),
    ("meter-dead", r"\bohms\b|\bdiode test\b|\bcapacitance range\b|\blow-ohm\b|\bmicrofarads\b"),
    ("insulation", r"\btester clipped\b|\bfive hundred volts\b"),
    ("volts", r"\b[ad]c volts\b|\bvolts [ad]c\b|\bprobes on the (coil's plug|pump's two wires)\b"),
    ("clamp", r"\bclamp (with maximum hold )?around\b"),
    ("cover", r"\b(cover|panel) off\b|\bopen (the|each|every) (\w+ )?(cover|box|cabinet)\b|\bside cover off\b"),
    ("cover", r"\bcap off\b|\bopen the compressor's side\b|\bat the open box\b"),
    (
        "moving",
        r"\breach through\b|\bturn the wheel\b|\bpush the (blade|vanes)\b|\bwheel in place\b|\bfree the wheel\b",
    ),
    ("moving", r"\bcoil, wheel and pan\b|\bstraighten the guard\b"),
    ("flame", r"\bbraz(e|ing)\b|\bflame off\b|\bchange the compressor\b"),
    ("open-circuit", r"\bcut\b[^.;]{0,40}\b(valve|strainer|kink|riser|out\b|and flare)|\bopen the suspected joint\b"),
    ("open-circuit", r"\bpart the pipes\b|\brenew the (port core|indoor coil)|\bchange the compressor\b|\bnew pipes\b"),
    ("gauge", r"\bgauge on\b|\bhose on\b"),
    ("recover", r"\brecover all\b"),
    ("charge", r"\bweigh in\b"),
    ("nitrogen", r"\bput nitrogen\b|\braise in steps\b|\bpurge with\b"),
    ("evacuate", r"\bevacuate\b"),
    ("water", r"\bpour\b|\binto the pan\b|\bfill the pan\b|\brinse\b|\bwash (the coil|the wheel)\b"),
    (
        "power-on",
        r"\bswitch on\b|\bthen on\b|\band on again\b|\bclose the breaker\b|\bpower (switched )?on\b(?! page)|\breset\b",
    ),
    (
        "run",
        r"\b(cooling|heating) (at|ten|fifteen|for (ten|fifteen))\b|\bfull (cooling|heating|output)\b|\bfan on high\b",
    ),
    (
        "run",
        r"\bcall for\b|\bunit calling\b|\bzone call\b|\bset the fan\b|\bstart the unit\b|\blet it (run|start|cool)\b",
    ),
    ("run", r"\b(run|running) (it|cooling|ten|one zone|at full)\b|\bwatch three tries to start\b|\bset it to cool\b"),
)
_COMPILED = tuple((kind, re.compile(pattern)) for kind, pattern in _PATTERNS)

#: What is only found there. The first group that is named says where a step is.
_SIGNAL = r"\bsignal (pair|conductors?|wires?|terminals?|line|cable)\b|\bthe pair\b|\bsignal two\b"
_LINE = r"\b(each|open|every) box\b|\bjoints?\b(?=.*\b(cable|box))|\bsplice\b|\bthe joint out\b"
_SUPPLY = r"\bdisconnect\b|\bbreaker'?s?\b|\bpanel while\b|\bat the panel\b"
_OUTDOOR = (
    r"\boutdoors?\b|\bcompressor'?s?\b|\bbus\b|\bmodule\b|\bheat sink\b|\bsoft.start\b|\breactor|\brectifier|"
    r"\bbridge\b|"
    r"\bdischarge\b|\bsuction\b|\boverload|\breversing\b|\bexpansion valve\b|\bvalve coil\b|\bbase pan\b|\bblade\b|"
    r"\bpressure switch\b|\bgas port\b|\bthick pipe|\bservice port\b|\bstrainer\b|\bu, v (and|,) w\b|\bu to v\b|"
    r"\bpipe compartment\b|\bsupply wires\b|\bheater\b|\bdefrost\b|\bvalve body\b|\bsupply (terminals|conductor)\b|"
    r"\bphases?\b|\bneutral\b|\bthe coil's plug\b|\bhigh.pressure\b|\blow.pressure\b|\bmain board\b|\bpressures\b|"
    r"\bhose outside\b|\blarge capacitors\b|\bterminal cap\b|\bwindings?\b|\bthe valve'?s?\b|\bneedle\b"
)
_INDOOR = (
    r"\bindoors?\b|\bfloat\b|\bpump|\bwheel\b|\bdisplay\b|\bfilter\b(?! the circuit)|\bvanes\b|"
    r"\broom sensor|\bpipe sensor|\badapter\b|"
    r"\bthe pan\b(?! along)|\bboard's large capacitor\b|\bintake grille\b|\bdrain\b(?! holes)"
)
_PLACES: tuple[tuple[Place, re.Pattern[str]], ...] = (
    ("line", re.compile(_LINE)),
    ("signal", re.compile(_SIGNAL)),
    ("outdoor", re.compile(_OUTDOOR)),
    ("indoor", re.compile(_INDOOR)),
    ("supply", re.compile(_SUPPLY)),
)
#: Electrical work that concerns both units: a cable between them is handled where it ends.
_BOTH_ENDS = re.compile(r"\bboth ends\b|\beach end\b|\bat both\b")


@dataclass(frozen=True)
class Touch:
    """One thing that hands do; ``words`` are those that say it."""

    kind: Kind
    words: str


@lru_cache(maxsize=4096)
def touches(text: str) -> tuple[Touch, ...]:
    """What hands do when they follow this sentence."""
    out: list[Touch] = []
    for sentence in re.split(r"(?<=[.?!;])\s+", text.lower()):
        said = _done(sentence)
        out += [Touch(kind, found.group(0)) for kind, pattern in _COMPILED if (found := pattern.search(said))]
    return tuple(dict.fromkeys(out))


def _done(sentence: str) -> str:
    """The sentence without the parts that tell what is not done; nothing where it only looks."""
    if re.search(r"\blook(ing)? only\b|\btouch(ing)? no(thing)?\b(?! electric)", sentence):
        return ""
    parts = re.split(r",|:|\band\b(?= (?:never|do not|reset nothing|touch|look|follow|see))", sentence)
    return ";".join(part for part in parts if not _NOT.search(part))


@lru_cache(maxsize=4096)
def places(text: str) -> tuple[Place, ...]:
    """Where it is, as far as the words tell: the units, the signal terminals, the cable's joints, the supply."""
    said = text.lower()
    found = [place for place, pattern in _PLACES if pattern.search(said)]
    for named, other in (("indoor", "outdoor"), ("outdoor", "indoor")):  # a unit that is named outweighs its parts
        if re.search(rf"\b{named}s?\b", said) and not re.search(rf"\b{other}s?\b", said) and other in found:
            found.remove(other)
    if "signal" in found and _BOTH_ENDS.search(said):
        found += ["outdoor", "indoor"]
    return tuple(dict.fromkeys(found))
