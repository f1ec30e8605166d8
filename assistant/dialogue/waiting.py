"""How long to wait before stored charge is measured: computed advice. The meter, never the timer, proves it dead."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from assistant.calculations.power_stage import safe_wait_s
from assistant.dialogue import phrases
from assistant.dialogue.energy import Stored
from assistant.dialogue.state import VisitState
from assistant.library.bounds import DEAD_AT_MOST_V, LONGEST_WAIT_S, SHORTEST_REST_S, SHORTEST_WAIT_S
from assistant.library.profile import UnitProfile
from assistant.messages.message import Message, message
from assistant.reasoning.waiting import wait_minutes

#: A decay that would need longer than this is none: the bus is still fed, or its bleed is open. Common practice.
LONGEST_S = 1200.0
#: Readings closer together than this say nothing of a decay, in s: the meter still settles. Common practice.
APART_S = 10.0
#: A stored voltage that rises by more than this factor over the reading before is being fed. Common practice.
RISES = 1.1
#: While the unit is not known. Common practice, no source.
UNKNOWN_S = 600.0
#: Where one reading was too high and nothing is known of bleed and capacitors. Common practice, no source.
ONCE_MORE_S = 120.0


@dataclass(frozen=True)
class Wait:
    """``seconds`` to wait, and the message that tells why (``grammars/messages/*/energy.ftl``).

    ``falls`` is false when the stored voltage does not fall: waiting is of no use then.
    """

    seconds: float
    why: str
    falls: bool = True


_NOT_FALLING = Wait(0.0, "wait-not-falling", falls=False)


def discharge_wait(profile: UnitProfile | None, measured: Sequence[Stored] = (), below_v: float | None = None) -> Wait:
    """How long the capacitors need from now.

    ``measured`` are the stored voltages read at this place since the lock was hung, oldest first; two of them show the
    decay as it is, which is worth more than any figure. ``below_v`` is what is waited for, in V. No profile makes it
    shorter or longer than ``library/bounds.py`` allows.
    """
    target = below_v or limit_v(profile)
    last = abs(measured[-1].volts) if measured else None
    if last is None:
        if profile is None:
            return Wait(UNKNOWN_S, "wait-usual")
        known = profile.bus is not None and not profile.general
        seconds = min(max(60 * wait_minutes(profile), SHORTEST_WAIT_S), LONGEST_WAIT_S)
        return Wait(seconds, "wait-computed" if known else "wait-general")
    if last <= target:
        return Wait(0.0, "wait-measured")
    seen = _from_decay(measured, target)
    if seen is not None:
        return Wait(max(seen, SHORTEST_REST_S), "wait-decay") if seen <= LONGEST_S else _NOT_FALLING
    bus = profile.bus if profile is not None else None
    if bus is None:
        return Wait(ONCE_MORE_S, "wait-measured")
    rest_s = safe_wait_s(last, target, bus.bleed_ohm, bus.capacitance_uf)
    return Wait(min(max(rest_s, SHORTEST_REST_S), LONGEST_WAIT_S), "wait-measured")


def sign_of_life(state: VisitState, now_s: float) -> Message | None:
    """How long a wait goes on yet, for who would wonder whether anybody is there; None where nothing is waited for."""
    if state.wait_until_s is None or state.held or now_s >= state.wait_until_s:
        return None
    return message("still-waiting", span=phrases.span_of_time(state.wait_until_s - now_s))


def limit_v(profile: UnitProfile | None) -> float:
    """Below this stored voltage hands may go in, in V; never above the ceiling whatever a profile says."""
    own = profile.bus.dead_below_v if profile is not None and profile.bus is not None else DEAD_AT_MOST_V
    return min(own, DEAD_AT_MOST_V)


def _from_decay(measured: Sequence[Stored], target_v: float) -> float | None:
    """Seconds from the last reading to ``target_v`` on the exponential through the last two; infinity when it does not
    fall, None when there are no two readings far enough apart."""
    last = measured[-1]
    if len(measured) > 1 and abs(last.volts) > RISES * max(abs(measured[-2].volts), target_v):
        return math.inf  # however short the time between them
    before = next((item for item in reversed(measured[:-1]) if last.at_s - item.at_s >= APART_S), None)
    if before is None or not before.volts or not last.volts:
        return None
    fall = math.log(abs(before.volts) / abs(last.volts))
    if fall <= 0:
        return math.inf
    return (last.at_s - before.at_s) / fall * math.log(abs(last.volts) / target_v)
