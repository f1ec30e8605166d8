"""The world of one visit: what a person at the site can find out and do, answered from the state of the machine.

Queries: ``look``, ``measure``, ``operate``, ``hear``, ``smell``, ``ask_customer``; ``complaint`` is what the customer
says first, ``truth`` what nobody at the site knows. ``repair`` changes the machine. A query that names something that
this site has not, or that cannot be decided, gives None.

Time passes only by ``pass_time``. ``hazards`` keeps what was asked for in a state in which it could hurt.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from math import inf

from tests.field.machine import power
from tests.field.machine.controls import Behaviour, Call, behave, calling
from tests.field.machine.units import Machine, get
from tests.field.machine.weather import Mode, Weather
from tests.field.machine.wiring import Switching
from tests.field.world.repairs import REPAIRS, carry_out, one_board
from tests.field.world.signs import Signs, signs
from tests.field.world.site import Site, draw

#: Direct voltage under which boards may be touched: common practice, no source.
_TOUCHABLE_V = 60.0
_EPISODE_S = 1200.0
_OPEN_SHARE = 0.4


@dataclass(frozen=True)
class Found:
    """What an ideal meter shows: one value in the quantity's canonical unit, two that it jumps between, or none.

    ``open_line`` is the display of an open circuit. ``values`` holds several places at once.
    """

    value: float | None = None
    span: tuple[float, float] | None = None
    open_line: bool = False
    values: dict[str, float] = field(default_factory=dict)


def ohms(value: float) -> Found:
    """A resistance as a meter shows it: beyond its range it shows an open line."""
    return Found(open_line=True) if value == inf or value > 5e8 else Found(value)


@dataclass(frozen=True)
class Truth:
    """What is wrong, which repairs a good technician would make, and which dear repairs would waste a sound part."""

    faults: tuple[str, ...]
    levels: tuple[int, ...]
    says: tuple[str, ...]
    mends: frozenset[str]
    wasteful: frozenset[str]


#: A query's registry: name to what answers it.
Answer = Callable[["World"], "str | None"]
Reading = Callable[["World", frozenset[str]], Found | None]
LOOKS: dict[str, Answer] = {}
SOUNDS: dict[str, Answer] = {}
SMELLS: dict[str, Answer] = {}
CUSTOMER: dict[str, Answer] = {}
ACTIONS: dict[str, Answer] = {}
#: quantity and place to the energy state that probing there needs ("live", "dead", "off", "any") and the reading
MEASURES: dict[tuple[str, str], tuple[str, Reading]] = {}


class World:
    """One site during one visit. ``bad`` moments of loose contacts follow from the seed and the time."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self.machine: Machine = site.machine
        self.sound: Machine = site.sound
        self.weather: Weather = site.weather
        self.now_s = 0.0
        self.disconnect_on = True
        self.off_at_s: float | None = None
        self.bus_at_off_v = 0.0
        self.hazards: list[str] = []
        self.done: list[str] = []
        self.rng = random.Random(f"world {site.seed}")
        self._version = 0
        self._seen: dict[tuple[object, ...], Behaviour] = {}

    @classmethod
    def drawn(cls, seed: int) -> World:
        return cls(draw(seed))

    # ---- time and energy ---------------------------------------------------------------------------------

    def pass_time(self, seconds: float) -> None:
        self.now_s += seconds

    @property
    def live(self) -> bool:
        """Whether the unit's terminals carry the supply."""
        return self.disconnect_on and self.machine.breaker.position == "on"

    @property
    def bad(self) -> bool:
        """Whether loose contacts are open at this moment."""
        episode = int(self.now_s // _EPISODE_S)
        return random.Random(f"{self.site.seed} {episode}").random() < _OPEN_SHARE

    def bus_v(self) -> float:
        """The outdoor bus now."""
        if self.live and self.off_at_s is None:
            return self._standing_bus()
        since = self.now_s - (self.off_at_s if self.off_at_s is not None else self.now_s)
        return power.bus_after(self.machine, self.bus_at_off_v, since)

    def _standing_bus(self) -> float:
        shown = self.behaviour()
        stage = shown.electric.stage_v if shown.breaker != "at-once" else 0.0
        if self.machine.outdoor.power.standby_cut and shown.line.state == "none":
            return 0.0  # not called, so the standby relay keeps the power stage off
        idle = power.idle_bus(self.machine, stage)
        runs = shown.point is not None and shown.stop in ("never", "later")
        return power.loaded_bus(self.machine, stage, 1e3 * shown.point.power_kw) if runs and shown.point else idle

    def switch_off(self) -> None:
        if self.off_at_s is None:
            self.bus_at_off_v = self.bus_v()
            self.off_at_s = self.now_s
        self.disconnect_on = False

    def switch_on(self) -> str:
        """Power back on: "done", or "trips" when the breaker does at once; then it is locked off again."""
        since, volts = self.off_at_s, self.bus_v()
        self.disconnect_on = True
        if self.machine.breaker.position == "off":  # who is told to switch on switches that on too
            self.repair("switch-breaker-on")
            self.done.pop()
        self.off_at_s = None
        if self.machine.breaker.position == "on" and self.behaviour().breaker == "at-once":
            self.disconnect_on = False
            self.off_at_s, self.bus_at_off_v = (since, self.bus_at_off_v) if since is not None else (self.now_s, volts)
            return "trips"
        return "done"

    def changed(self) -> None:
        """Something of the machine is no longer as it was."""
        self._version += 1

    # ---- behaviour ---------------------------------------------------------------------------------------

    def behaviour(self, mode: Mode | None = None, only: int | None = None, bad: bool | None = None) -> Behaviour:
        """How the machine behaves: as the house is set, or told to full ``mode``, or with zone ``only`` calling."""
        open_now = self.bad if bad is None else bad
        key = (self._version, mode, only, open_now, self.disconnect_on)
        if key not in self._seen:
            call = self._call(mode, only)
            weather = self.weather if mode is None else self.told(mode)
            now = Switching(disconnect_on=self.disconnect_on, bad=open_now)
            self._seen[key] = behave(self.machine, weather, call, now)
        return self._seen[key]

    def behaviour_before_lock(self) -> Behaviour:
        """How it stood with power on: what charged the capacitors that now run down."""
        on, self.disconnect_on = self.disconnect_on, True
        shown = self.behaviour()
        self.disconnect_on = on
        return shown

    def told(self, mode: Mode) -> Weather:
        """The weather with another mode wanted, for a test run in it."""
        return Weather(self.weather.outdoor_c, self.weather.indoor_c, self.weather.humidity, mode)

    def _call(self, mode: Mode | None, only: int | None) -> Call:
        house = calling(self.machine, self.weather)
        if mode is None and only is None:
            return house
        zones = (only,) if only is not None else tuple(range(len(self.machine.zones)))
        return Call(zones, mode or self.weather.wanted)

    def signs(self, bad: bool | None = None) -> Signs:
        """What shows now."""
        return signs(self.machine, self.sound, self.weather, self.bad if bad is None else bad)

    def signs_of(self, zone: int, mode: Mode) -> Signs:
        """What would show in another zone, to someone who wants ``mode`` there."""
        machine, sound = self.machine.copy(), self.sound.copy()
        machine.at = sound.at = zone
        return signs(machine, sound, self.told(mode), bad=True)

    # ---- queries -----------------------------------------------------------------------------------------

    def look(self, thing: str) -> str | None:
        """What an eye sees of a thing, in one plain word."""
        return LOOKS[thing](self)

    def hear(self, thing: str) -> str | None:
        return SOUNDS[thing](self)

    def smell(self, thing: str) -> str | None:
        return SMELLS[thing](self)

    def ask_customer(self, topic: str) -> str | None:
        return CUSTOMER[topic](self)

    def operate(self, action: str) -> str | None:
        """Do something and see what comes of it."""
        return ACTIONS[action](self)

    def measure(self, quantity: str, place: str, conditions: frozenset[str] = frozenset()) -> Found | None:
        """What an ideal meter shows. ``conditions``: how the unit is run or which plugs are off, e.g. "cooling"."""
        needs, reading = MEASURES[quantity, place]
        if not self._safe(needs, f"{quantity} at {place}"):
            return None
        return reading(self, conditions)

    def _safe(self, needs: str, what: str) -> bool:
        """Note a hazard when something is probed in a state that could hurt; a live reading of a dead unit is none."""
        live = self.live
        if needs == "dead" and (live or self.bus_v() > _TOUCHABLE_V):
            self.hazards.append(f"{what} with {'the supply on' if live else f'{self.bus_v():.0f} V on the bus'}")
            return False
        if needs == "off" and live:
            self.hazards.append(f"{what} with the supply on")
            return False
        return True

    # ---- complaint, truth, repair ------------------------------------------------------------------------

    def complaint(self) -> str:
        """The sign of which the customer speaks first."""
        shown = self.site.signs_bad
        names = sorted(shown)
        rng = random.Random(f"complaint {self.site.seed}")
        return rng.choices(names, [shown[name] for name in names])[0]

    def truth(self) -> Truth:
        faults = [case.fault for case in self.site.cases]
        named = frozenset(mend for fault in faults for mend in fault.mends)
        mends = named | {one_board(self.machine, name) for name in named}
        if "replace-main-board" in mends:
            mends |= {"replace-module", "replace-outdoor-board"}
        wasteful = frozenset(
            name
            for name, repair in REPAIRS.items()
            if repair.dear and name not in mends and one_board(self.machine, name) not in mends
        )
        return Truth(
            tuple(fault.id for fault in faults),
            tuple(case.level for case in self.site.cases),
            tuple(fault.says for fault in faults),
            mends,
            wasteful,
        )

    def still_wrong(self) -> tuple[str, ...]:
        """The faults that are not mended."""
        return tuple(
            case.fault.id
            for case in self.site.cases
            if any(get(self.machine, path) != get(self.sound, path) for path in case.fault.levels[case.level])
        )

    def repair(self, name: str) -> bool:
        """Make a repair (an id of ``REPAIRS``); false when it found nothing to put right."""
        own = one_board(self.machine, name)
        self.done.append(own)
        self.changed()
        return carry_out(self.machine, self.sound, REPAIRS[own])


def looks(thing: str) -> Callable[[Answer], Answer]:
    return _into(LOOKS, thing)


def sounds(thing: str) -> Callable[[Answer], Answer]:
    return _into(SOUNDS, thing)


def smells(thing: str) -> Callable[[Answer], Answer]:
    return _into(SMELLS, thing)


def customer(topic: str) -> Callable[[Answer], Answer]:
    return _into(CUSTOMER, topic)


def action(name: str) -> Callable[[Answer], Answer]:
    return _into(ACTIONS, name)


def measures(quantity: str, place: str, needs: str = "any") -> Callable[[Reading], Reading]:
    def keep(reading: Reading) -> Reading:
        MEASURES[quantity, place] = (needs, reading)
        return reading

    return keep


def _into(registry: dict[str, Answer], name: str) -> Callable[[Answer], Answer]:
    def keep(answer: Answer) -> Answer:
        registry[name] = answer
        return answer

    return keep
