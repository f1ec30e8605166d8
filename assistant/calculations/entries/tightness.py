"""Tightness and vacuum in the catalogue."""

from __future__ import annotations

from assistant.calculations import tightness, water
from assistant.calculations.entries.common import (
    ALTITUDE,
    GAUGE,
    OUTCOME,
    THERMOMETER,
    judged_outputs,
    meter,
    read_by,
)
from assistant.calculations.entry import Calculation, Output, quantity

ENTRIES = (
    Calculation(
        "nitrogen-pressure",
        "tightness",
        "nitrogen pressure at another temperature",
        (
            quantity("start", "pressure_gauge", "pressure at the start", said_in="psi"),
            quantity("start_temperature", "temperature", "temperature at the start", said_in="degF"),
            quantity("now_temperature", "temperature", "temperature now", said_in="degF"),
            ALTITUDE,
        ),
        (
            Output("expected", "pressure_gauge", "expected now"),
            Output("ideal", "pressure_gauge", "by the ideal law P1·T2/T1"),
        ),
        "p = ρ·R·T·(1 + B·ρ + C·ρ²) at one density ρ",
        "{start} from {start_temperature} to {now_temperature}",
        tightness.NITROGEN_SOURCE,
        lambda start, start_temperature, now_temperature, altitude: {
            "expected": tightness.nitrogen_expected_kpa(start, start_temperature, now_temperature, altitude),
            "ideal": tightness.ideal_expected_kpa(start, start_temperature, now_temperature, altitude),
        },
    ),
    Calculation(
        "nitrogen-test",
        "tightness",
        "nitrogen standing test judged",
        (
            read_by(
                quantity("start", "pressure_gauge", "pressure at the start", said_in="psi"), "digital-gauge", "gauge"
            ),
            read_by(
                quantity("start_temperature", "temperature", "temperature at the start", said_in="degF"),
                "contact-thermometer",
                "thermometer",
            ),
            read_by(quantity("now", "pressure_gauge", "pressure now", said_in="psi"), "digital-gauge", "gauge"),
            read_by(
                quantity("now_temperature", "temperature", "temperature now", said_in="degF"),
                "contact-thermometer",
                "thermometer",
            ),
            quantity("allowed", "percent", "loss allowed, of the absolute pressure", tightness.ALLOWED_PERCENT),
            quantity("least", "pressure_gauge", "loss allowed in any case", tightness.ALLOWED_KPA),
            ALTITUDE,
            *GAUGE,
            THERMOMETER,
        ),
        (
            Output("lost", "pressure_gauge", "lost beyond temperature"),
            Output("expected", "pressure_gauge", "expected now"),
            Output("allowed_loss", "pressure_gauge", "loss allowed"),
            OUTCOME,
            *judged_outputs("pressure_gauge"),
        ),
        "p(ρ, T2) - P2 at the density of P1, T1",
        "{start}, {start_temperature} to {now}, {now_temperature}: {expected} - {now}, allowed {allowed_loss}",
        tightness.NITROGEN_SOURCE + "; one gauge and one thermometer read both times (JCGM 100:2008 F.1.2.3)",
        lambda start, start_temperature, now, now_temperature, allowed, least, altitude, **_: tightness.judge_nitrogen(
            start, start_temperature, now, now_temperature, allowed, least, altitude
        ),
        spoken=("nitrogen test",),
        judges=True,
    ),
    Calculation(
        "vacuum-test",
        "tightness",
        "vacuum decay judged by three readings",
        (
            *(
                read_by(quantity(name, "vacuum", about, said_in="micron"), "vacuum-gauge", "meter")
                for name, about in (
                    ("start", "vacuum when valved off"),
                    ("middle", "vacuum at half time"),
                    ("end", "vacuum at the end"),
                )
            ),
            quantity("duration", "duration", "test time", said_in="min"),
            quantity("deep", "vacuum", "deep enough", tightness.DEEP_PA),
            quantity("limit", "vacuum", "risen at most to", tightness.RISEN_PA),
            quantity("goes_on", "count", "share of the first half's rise that is a leak", tightness.GOES_ON_SHARE),
            *meter("vacuum-gauge", "vacuum"),
        ),
        (
            Output("outcome", "word", "vacuum"),
            Output("last", "vacuum", "vacuum at the end"),
            Output("rise", "vacuum", "rise"),
            Output("ratio", "count", "rise of the second half over the first"),
            *judged_outputs("vacuum"),
        ),
        "first ≤ deep; last ≤ limit, else (end - middle) against share·(middle - start)",
        "{start}, {middle}, {end} over {duration}, deep {deep}, limit {limit}",
        tightness.VACUUM_SOURCE,
        lambda start, middle, end, duration, deep, limit, goes_on, **_: tightness.judge_vacuum(
            start, middle, end, duration, deep, limit, goes_on
        ),
        spoken=("vacuum test",),
        judges=True,
    ),
    Calculation(
        "water-boils",
        "tightness",
        "temperature at which water boils in a vacuum",
        (quantity("vacuum", "vacuum", "vacuum", said_in="micron", instrument="vacuum-gauge"),),
        (Output("temperature", "temperature", "water boils, below 0 °C ice sublimes, at"),),
        "p_saturation(T) = p",
        "{vacuum}",
        water.WATER_SOURCE,
        lambda vacuum: {"temperature": water.boils_at_c(vacuum)},
        spoken=("water boils",),
    ),
    Calculation(
        "vacuum-leak-flow",
        "tightness",
        "leak rate from a pressure rise",
        (
            quantity("rise", "vacuum", "rise", said_in="micron"),
            quantity("volume", "volume", "volume of the circuit"),
            quantity("duration", "duration", "test time", said_in="min"),
        ),
        (Output("flow", "leak_flow", "leak"),),
        "V·Δp/t",
        "{volume}·{rise}/{duration}",
        "pressure-rise method, EN 1779 (title from memory)",
        lambda rise, volume, duration: {"flow": tightness.leak_rate_pa_m3_s(rise, volume, duration)},
    ),
)
