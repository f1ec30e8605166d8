"""Masses of CO2, duties and leak rates against worked examples by hand, the article beside each."""

from __future__ import annotations

from datetime import date

import pytest

from assistant.job.duties import after_months, duties, leak_rate_percent
from assistant.job.ledger import Entry, Line
from assistant.job.refrigerant import balance, co2_tonnes, gwp
from assistant.quantities.mechanical import POUND_KG

TODAY = date(2026, 3, 4)

#: Regulation (EU) 2024/573: Annex I has R32 675, R125 3500, R134a 1430; Annex II has R1234yf 0.501; Annex VI sums the
#: mass shares. R410A is 0.5 x 675 + 0.5 x 3500 = 337.5 + 1750. R454B is 0.689 x 675 + 0.311 x 0.501 = 465.075 + 0.1558.
#: R407C is 0.23 x 675 + 0.25 x 3500 + 0.52 x 1430 = 155.25 + 875 + 743.6.
BY_HAND = {"R32": 675.0, "R410A": 2087.5, "R454B": 465.2308, "R407C": 1773.85, "R134a": 1430.0}


@pytest.mark.parametrize("refrigerant", BY_HAND)
def test_global_warming_potential(refrigerant: str) -> None:
    assert gwp(refrigerant) == pytest.approx(BY_HAND[refrigerant], abs=0.01)


def test_tonnes_of_co2() -> None:
    """2.6 kg of R410A: 2.6 x 2087.5 / 1000 = 5.4275 t. 2.6 kg of R454B: 2.6 x 465.23 / 1000 = 1.2096 t."""
    assert co2_tonnes("R410A", 2.6) == pytest.approx(5.4275)
    assert co2_tonnes("R454B", 2.6) == pytest.approx(1.2096, abs=1e-4)


def _ids(*args: object, **more: bool) -> list[str]:
    return [duty.id for duty in duties(*args, **more)]  # type: ignore[arg-type]


def test_eu_leak_check_from_five_tonnes() -> None:
    """Article 5(1): 5 t. R410A: 5 / 2.0875 = 2.3952 kg. 2.39 kg is below, 2.40 kg above; then every 12 months."""
    assert _ids("eu", "R410A", 2.39, TODAY) == ["duty-eu-none"]
    check, record = duties("eu", "R410A", 2.40, TODAY)
    assert (check.id, check.months, check.due) == ("duty-eu-check", 12, date(2027, 3, 4))
    assert check.article == "Regulation (EU) 2024/573, Article 5"
    assert record.article == "Regulation (EU) 2024/573, Article 7"


def test_eu_intervals() -> None:
    """R410A: 50 t is 23.953 kg, 500 t is 239.53 kg: every 6 and every 3 months."""
    assert duties("eu", "R410A", 23.9, TODAY)[0].months == 12
    assert duties("eu", "R410A", 24.0, TODAY)[0].due == date(2026, 9, 4)
    assert duties("eu", "R410A", 240.0, TODAY)[0].due == date(2026, 6, 4)


def test_eu_sealed_units() -> None:
    """Article 5(1): sealed and labelled below 10 t is free (R32: 14.8 kg); at home below 3 kg."""
    assert _ids("eu", "R32", 8.0, TODAY, sealed=True) == ["duty-eu-none"]
    assert _ids("eu", "R32", 15.0, TODAY, sealed=True)[0] == "duty-eu-check"
    assert _ids("eu", "R410A", 2.9, TODAY, sealed=True, home=True) == ["duty-eu-none"]


def test_eu_mended_leak_is_checked_within_a_month() -> None:
    """Article 4: not before 24 hours of running, within one month."""
    last = duties("eu", "R32", 1.0, date(2026, 1, 31), leak_mended=True)[-1]
    assert (last.id, last.due) == ("duty-eu-repair", date(2026, 2, 28))


def test_other_gases_and_other_places() -> None:
    assert _ids("eu", "R290", 1.0, TODAY) == ["duty-eu-other-gas"]
    assert _ids("eu", "R22", 3.0, TODAY) == ["duty-eu-other-gas"]
    assert _ids("other", "R410A", 9.0, TODAY) == ["duty-local"]


def test_us_fifteen_pounds() -> None:
    """40 CFR 84.106(a): 15 lb = 6.804 kg of a gas with an HFC or a GWP above 53; 82.154(a) holds for every one."""
    assert _ids("us", "R410A", 14.9 * POUND_KG, TODAY) == ["duty-us-release", "duty-us-none"]
    assert _ids("us", "R410A", 15.0 * POUND_KG, TODAY) == ["duty-us-release", "duty-us-leak-rate"]
    assert _ids("us", "R290", 20.0 * POUND_KG, TODAY) == ["duty-us-release", "duty-us-none"]


def test_leak_rate_by_the_annualizing_method() -> None:
    """40 CFR 84.102: 2 lb into 20 lb after 73 days: 2/20 x 365/73 = 0.1 x 5 = 50 percent a year. The first charge
    counts a year: 2/20 = 10 percent."""
    assert leak_rate_percent(2, 20, 73) == pytest.approx(50)
    assert leak_rate_percent(2, 20, 5000) == pytest.approx(10)
    with pytest.raises(ValueError, match="full charge"):
        leak_rate_percent(1, 0, 30)


def test_months_end_at_the_end_of_a_month() -> None:
    assert after_months(date(2026, 8, 31), 6) == date(2027, 2, 28)
    assert after_months(date(2027, 11, 30), 3) == date(2028, 2, 29)


def test_balance_by_unit_and_cylinder() -> None:
    """Recovered 2 lb 10 oz = 2.625 lb = 1.19068 kg into 3; charged 1.2 and 0.15 kg from 7: net 0.15932 kg more."""
    lines = [
        Line(number=1, entry=Entry(what="recovered", kg=2.625 * POUND_KG, cylinder="3")),
        Line(number=2, entry=Entry(what="charged", kg=1.3, cylinder="7"), struck=True),
        Line(number=3, entry=Entry(what="charged", kg=1.2, cylinder="7")),
        Line(number=4, entry=Entry(what="charged", kg=0.15, cylinder="7")),
    ]
    found = balance(lines)
    assert found.net_kg == pytest.approx(0.15932, abs=1e-5)
    assert found.cylinders["3"] == pytest.approx(1.19068, abs=1e-5)
    assert found.cylinders["7"] == pytest.approx(-1.35)
