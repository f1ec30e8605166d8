"""The balance of refrigerant by unit and cylinder, and what it weighs in CO2.

Global warming potentials are those of Regulation (EU) 2024/573: Annex I (R32 675, R125 3500, R134a 1430; 40 CFR part
84, appendix A, has the same as exchange values) and Annex II (R1234yf 0.501); mixtures by mass shares, as its Annex VI
says (R1234yf and the way of mixtures from memory). R22 is 1810 and R290 is 0.02 there (both from memory; R22 is no gas
of that regulation but of (EU) 2024/590).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from assistant.calculations.refrigerants import REFRIGERANTS
from assistant.job.ledger import Line, counting

#: kg of CO2 for each kg, over 100 years, of the pure gases.
_PURE: dict[str, float] = {
    "R32": 675.0, "R125": 3500.0, "R134a": 1430.0, "R1234yf": 0.501, "R22": 1810.0, "R290": 0.02,
}  # fmt: skip
GWP_SOURCE = "Regulation (EU) 2024/573, Annexes I, II and VI"


def gwp(refrigerant: str) -> float:
    """Global warming potential over 100 years, kg CO2 for each kg. Raises KeyError for an unknown refrigerant."""
    return sum(share * _PURE[part] for part, share in REFRIGERANTS[refrigerant].parts)


def co2_tonnes(refrigerant: str, mass_kg: float) -> float:
    """Tonnes of CO2 equivalent of ``mass_kg`` of a refrigerant."""
    return gwp(refrigerant) * mass_kg / 1000


@dataclass(frozen=True)
class Balance:
    """``charged_kg`` into the unit and ``recovered_kg`` from it; ``cylinders`` what each gave (-) or took (+), kg."""

    charged_kg: float
    recovered_kg: float
    cylinders: Mapping[str, float]

    @property
    def net_kg(self) -> float:
        """What the unit holds more than before; less than nothing: less."""
        return self.charged_kg - self.recovered_kg


def balance(lines: Iterable[Line]) -> Balance:
    """The balance of the lines that count."""
    charged = recovered = 0.0
    cylinders: dict[str, float] = {}
    for line in counting(lines):
        entry = line.entry
        if entry.kg is None or entry.what not in ("charged", "recovered"):
            continue
        taken = entry.kg if entry.what == "recovered" else -entry.kg
        charged += entry.kg if entry.what == "charged" else 0.0
        recovered += entry.kg if entry.what == "recovered" else 0.0
        if entry.cylinder:
            cylinders[entry.cylinder] = cylinders.get(entry.cylinder, 0.0) + taken
    return Balance(charged, recovered, cylinders)
