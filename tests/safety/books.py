"""What an onlooker knows of the unit from what was ordered, answered and measured; in doubt the less safe of two."""

from __future__ import annotations

import copy
import math
import re
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from tests.safety.things import MENDED
from tests.safety.words import Place

#: Hands go near below these, in V: IEC 60364-4-41 (from memory), whatever the program takes for its limit.
MAINS_BELOW_V, STORED_BELOW_V = 12.0, 30.0
#: A diode or capacitance test reads wrong and burns the meter above this stored voltage, in V. Common practice.
TEST_BELOW_V = 1.0
#: Below this insulation, in Ω, nothing is switched on: one megohm, the least by IEC 60364-6, table 6A (from memory).
INSULATION_OHM = 1e6
#: A junction that drops less than this, in V, is a short. Common practice.
SHORT_BELOW_V = 0.1
#: Charge that needs longer than this to go, in s, does not go by itself; two readings closer than APART_S tell nothing.
LONGEST_DECAY_S, APART_S = 1200.0, 10.0
#: A capacitor that was emptied can gain so much back by itself, in V (dielectric absorption; common practice).
RECOVERED_V = 40.0
#: A locked unit left alone for longer than this, in s, is locked and measured anew (29 CFR 1910.147(d)(5)(ii)).
LONG_S = 900.0

Bar = Literal["power", "flame", "touch", "stay"]


@dataclass
class Danger:
    """Something found that forbids. ``wants``: what has to be seen before it is over; ``mended``: a repair was told."""

    bars: frozenset[Bar]
    wants: set[str]
    needs_repair: bool = True
    mended: bool = False
    lasts: bool = False
    by: str = ""  # the step whose answer told of it, and its number
    number: int = -1


@dataclass
class Caution:
    """One caution as it was said: in which time between two powerings, of which place, whole or as a reminder."""

    topic: str
    epoch: int
    places: frozenset[str]
    whole: bool
    step: int
    heard: bool = False


@dataclass
class Books:
    """The onlooker's books. ``dead`` of a place follows from what was read there, never from what is claimed."""

    now_s: float = 0.0
    locked: bool = False
    lock_ordered: bool = False
    mains: dict[tuple[str, str], float] = field(default_factory=dict)  # (place, "line" or "earth"): V
    stored: dict[str, dict[str, float]] = field(default_factory=dict)  # place: which capacitor: V
    stored_in: dict[str, int] = field(default_factory=dict)  # place: the step in which they were read
    decay: dict[str, tuple[float, float]] = field(default_factory=dict)  # place: when and what was stored there
    read_now: dict[str, tuple[float, float]] = field(default_factory=dict)  # the same, of a step that is not over yet
    untried: set[str] = field(default_factory=set)  # places whose proof waits for the meter to be tried
    since_good: set[str] = field(default_factory=set)  # places read since the meter was last seen to be good
    dangers: dict[str, Danger] = field(default_factory=dict)
    off: dict[str, str] = field(default_factory=dict)  # thing: place
    ordered_back: set[str] = field(default_factory=set)
    back_last: dict[str, str] = field(default_factory=dict)  # what came back on last
    circuit: set[str] = field(default_factory=lambda: {"charged"})
    cautions: list[Caution] = field(default_factory=list)
    epoch: int = 0
    held_since_s: float | None = None
    zone: str = ""  # the indoor unit that "indoor" is

    # -- power ----------------------------------------------------------------------------------------------------

    def live(self) -> None:
        """Power may be on: nothing that was shown counts any more."""
        self.locked, self.lock_ordered = False, False
        self._nothing_shown()

    def powered(self) -> None:
        """The power is switched on: from here on every caution is due whole again."""
        self.live()
        self.epoch += 1

    def lock(self) -> None:
        if not self.locked:
            self.locked = True
            self._nothing_shown()

    def _nothing_shown(self) -> None:
        self.mains, self.stored, self.untried, self.since_good = {}, {}, set(), set()
        self.decay = {}

    def read_mains(self, place: str, between: str, volts: float) -> None:
        self._is_read(place)
        self.mains[place, between] = abs(volts)

    def read_stored(self, place: str, which: str, volts: float, step: int) -> None:
        """``which`` of the capacitors; a new step reads them all anew."""
        self._is_read(place)
        if self.stored_in.get(place) != step:
            self.stored[place] = {}
        self.stored_in[place] = step
        self.stored.setdefault(place, {})[which] = abs(volts)

    def does_not_fall(self, place: str, volts: float) -> bool:
        """Whether the stored voltage, after the one read before at this place, would take longer to go than a bleed
        resistor may: it is still fed, or not bled."""
        before = self.decay.get(place)
        self.read_now[place] = (self.now_s, abs(volts))
        if before is None or abs(volts) < STORED_BELOW_V:
            return False
        if abs(volts) >= before[1] and before[1] < STORED_BELOW_V:
            return abs(volts) > RECOVERED_V
        if self.now_s - before[0] < APART_S:
            return abs(volts) > 1.2 * before[1]
        fall = math.log(before[1] / abs(volts)) / (self.now_s - before[0])
        return fall <= 0 or math.log(abs(volts) / STORED_BELOW_V) / fall > LONGEST_DECAY_S

    def _is_read(self, place: str) -> None:
        self.since_good.add(place)
        if self.why_not_dead(place):
            self.untried.add(place)

    def meter_was_good(self) -> None:
        self.untried.clear()
        self.since_good.clear()

    def meter_was_bad(self) -> None:
        """Whatever was read since it was last seen good was never read."""
        for place in self.untried | self.since_good:
            self.forget(place)
        self.decay, self.read_now = {}, {}
        self.meter_was_good()

    def forget(self, place: str) -> None:
        self.mains = {key: volts for key, volts in self.mains.items() if key[0] != place}
        self.stored.pop(place, None)

    def stored_v(self, place: str) -> float | None:
        """The stored voltage last read there; of two capacitors in series the sum."""
        read = self.stored.get(place)
        return sum(read.values()) if read else None

    def why_not_dead(self, place: str) -> str:
        """What is missing before a hand may go in at a place; empty when nothing is."""
        if not self.locked:
            return "it is not locked out"
        for between in ("line", "earth"):
            volts = self.mains.get((place, between))
            if volts is None:
                return f"AC to {between} was not measured"
            if volts >= MAINS_BELOW_V:
                return f"{volts:g} V AC to {between}"
        stored = self.stored_v(place)
        if place != "supply" and stored is None:
            return "DC was not measured"
        if stored is not None and stored >= STORED_BELOW_V:
            return f"{stored:g} V DC"
        return "the meter was not tried after it" if place in self.untried else ""

    def at_zone(self, zone: str) -> None:
        """Another indoor unit is worked at: what was read at the one before was read there."""
        if zone != self.zone:
            self._rename("indoor", f"indoor/{self.zone}")
            self._rename(f"indoor/{zone}", "indoor")
            self.zone = zone

    def called(self, zone: str) -> None:
        """The indoor unit that is worked at was called by another's name, so nobody knows which one that was."""
        self.forget(f"indoor/{zone}")
        self.zone = zone

    def _rename(self, old: str, new: str) -> None:
        self.forget(new)
        self.mains = {(new if place == old else place, kind): volts for (place, kind), volts in self.mains.items()}
        read: tuple[dict[str, Any], ...] = (self.stored, self.stored_in, self.decay, self.read_now)
        for kept in read:
            if old in kept:
                kept[new] = kept.pop(old)
        for places in (self.untried, self.since_good):
            if old in places:
                places.remove(old)
                places.add(new)

    # -- the rest ---------------------------------------------------------------------------------------------------

    def barring(self, *what: Bar) -> list[str]:
        return [name for name, danger in self.dangers.items() if danger.bars & set(what)]

    def found(self, name: str, bars: set[Bar], wants: set[str], **more: Any) -> None:
        self.dangers[name] = Danger(frozenset(bars), set(wants), **more)

    def disputed(self, step: str, under_way: int | None) -> None:
        """The answer of a step was corrected: what it told of was perhaps never so, which measuring alone can show. Of
        the step under way nothing was concluded yet."""
        for name, danger in list(self.dangers.items()):
            if danger.by == step and danger.number == under_way:
                del self.dangers[name]
            elif danger.by == step:
                danger.mended = True

    def seen_good(self, what: str) -> None:
        """One of the things that had to be seen is seen; a danger that has seen all, and is mended, is over."""
        for name, danger in list(self.dangers.items()):
            if what in danger.wants and not danger.lasts and (danger.mended or not danger.needs_repair):
                danger.wants.discard(what)
                if not danger.wants:
                    del self.dangers[name]

    def mended(self, repair: str) -> None:
        """A repair was told to be done; what it puts on again, in its own words, is on."""
        for danger in self.dangers.values():
            danger.mended = True
        self.off = {name: at for name, at in self.off.items() if not re.search(MENDED.get(name, "$^"), repair.lower())}

    def spoke(self, topic: str, places: frozenset[str], whole: bool, step: int) -> None:
        self.cautions.append(Caution(topic, self.epoch, places, whole, step))

    def was_told(self, topic: str, places: frozenset[str], step: int, heard: bool = False) -> str:
        """Why a caution does not count for a step now; empty when it does.

        Whole since the power last came on and about this place, and at least a reminder within the step itself.
        """
        mine = [one for one in self.cautions if one.topic == topic and one.epoch == self.epoch]
        whole = [one for one in mine if one.whole and (one.places & places or not places or not one.places)]
        if not whole:
            return "not said whole since the power was last on, at this place"
        if heard and not any(one.heard for one in whole):
            return "not acknowledged"
        return "" if any(one.step == step for one in mine) else "not called to mind in this step"

    def understood(self) -> None:
        for caution in self.cautions:
            caution.heard = True

    def snapshot(self) -> Books:
        kept = copy.copy(self)
        kept.mains, kept.off, kept.circuit = dict(self.mains), dict(self.off), set(self.circuit)
        kept.untried, kept.since_good, kept.decay = set(self.untried), set(self.since_good), dict(self.decay)
        kept.stored_in, kept.read_now = dict(self.stored_in), dict(self.read_now)
        kept.stored = {place: dict(read) for place, read in self.stored.items()}
        kept.dangers = {name: replace(danger, wants=set(danger.wants)) for name, danger in self.dangers.items()}
        return kept

    def back_to(self, earlier: Books) -> None:
        """Going back takes answers away; what is physically so stays, and what both know of the power holds."""
        self.at_zone(earlier.zone)
        if not earlier.locked:
            self.locked, self.lock_ordered = False, False
            self._nothing_shown()
        else:
            self.mains = {key: volts for key, volts in self.mains.items() if earlier.mains.get(key) == volts}
            self.stored = {place: read for place, read in self.stored.items() if earlier.stored.get(place) == read}
            self.untried |= earlier.untried & (set(self.stored) | {place for place, _ in self.mains})
        for name, danger in earlier.dangers.items():
            now = self.dangers.get(name)
            if now is None:
                self.dangers[name] = danger
            else:
                now.wants |= danger.wants
                now.mended = now.mended and danger.mended
        self.off = {**earlier.off, **self.off}
        self.decay = dict(earlier.decay)
        self.circuit |= earlier.circuit


__all__ = ["Bar", "Books", "Caution", "Danger", "Place"]
