"""Mistakes aimed at where the tests of the calculations were weak once; each must be noticed, in CI too."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tests.mutants import Mutant

_FOLDER = Path("assistant/calculations")


class Spot(NamedTuple):
    """``new`` written for ``old`` (once in the module), and the calculations whose answers it spoils."""

    module: str
    old: str
    new: str
    calculations: tuple[str, ...]

    @property
    def mutant(self) -> Mutant:
        """The module with the mistake."""
        path = _FOLDER / f"{self.module}.py"
        text = path.read_text(encoding="utf-8")
        if text.count(self.old) != 1:
            raise SystemExit(f"{self.old!r} stands {text.count(self.old)} times in {path}; mend tests/weak_spots.py.")
        line = text[: text.index(self.old)].count("\n") + 1
        return Mutant(path, line, "module", f"{self.new}  for  {self.old}", text.replace(self.old, self.new))


SPOTS = (
    Spot("refrigerant_cycle", "= 5 / 1.8, 3 / 1.8", "= 5 / 1.8, 4 / 1.8", ("subcooling-judged",)),
    Spot("refrigerant_cycle", "Limit(1.0, f", "Limit(1.3, f", ("superheat-judged",)),
    Spot(
        "refrigerant_cycle",
        "absolute_kpa(liquid_gauge_kpa, altitude_m)) - _line(line_c)",
        "absolute_kpa(liquid_gauge_kpa, altitude_m)) + _line(line_c)",
        ("subcooling",),
    ),
    Spot("sensor_judging", "Limit(1e6)", "Limit(2e5)", ("sensors-open-shorted",)),
    Spot(
        "tightness",
        "readings = (start, start_temperature, now, now_temperature)",
        "readings = (start, start_temperature, Metered(now.value), now_temperature)",
        ("nitrogen-test",),
    ),
    Spot(
        "tightness",
        "return gauge_kpa(_nitrogen_kpa(density, now_c + ZERO_C_K), altitude_m)",
        "return gauge_kpa(_nitrogen_kpa(density, now_c + ZERO_C_K))",
        ("nitrogen-test",),
    ),
    Spot("flammable", "(52 if lightly else 26)", "26", ("room", "room-largest-charge")),
    Spot(
        "supply",
        '("three-phase-400", "en-50160-extreme"): (340, 440)',
        '("three-phase-400", "en-50160-extreme"): (350, 440)',
        ("supply-band",),
    ),
    Spot("supply_pattern", "_LOW = 0.3", "_LOW = 0.6", ("supply-pattern",)),
    Spot("charge", "added_g_per_m / 1000", "added_g_per_m / 100", ("charge", "charge-judged")),
    Spot("instruments", "Accuracy(0.5, 7, 3.5, 1)", "Accuracy(0.05, 0.7, 0.35, 1)", ("superheat", "nitrogen-test")),
    Spot("instruments", "Accuracy(0, 0.7, 0.3, 0.1)", "Accuracy(0, 0.07, 0.03, 0.1)", ("superheat", "subcooling")),
    Spot("bridge", "Limit(0.1)", "Limit(0.2)", ("bridge-diodes",)),
    Spot("fan_motor", "Limit(15.0)", "Limit(25.0)", ("fan-motor",)),
    Spot(
        "winding_judging", "OPEN_TIMES, SHORT_SHARE = 100.0, 0.2", "OPEN_TIMES, SHORT_SHARE = 50.0, 0.2", ("windings",)
    ),
    Spot(
        "winding_judging", "OPEN_TIMES, SHORT_SHARE = 100.0, 0.2", "OPEN_TIMES, SHORT_SHARE = 100.0, 0.1", ("windings",)
    ),
    Spot(
        "catalogue",
        "percent if isinstance(percent, float) else accuracy.percent_of_reading",
        "accuracy.percent_of_reading",
        ("bridge-diodes", "insulation", "supply-band"),
    ),
    Spot(
        "power_stage",
        "(1 + capacitance_tolerance_percent / 100)",
        "(1 - capacitance_tolerance_percent / 100)",
        ("bleed-time",),
    ),
)
