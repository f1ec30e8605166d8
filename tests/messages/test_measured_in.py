"""Amounts follow the system of measurement that the technician reads in."""

from assistant.messages.catalogue import catalogue
from assistant.messages.measured_in import in_system
from assistant.messages.message import Amount, message


def test_what_nobody_chose_a_unit_for_is_told_in_the_technicians_system():
    """10 K apart are 18 °F apart; 20 °C are 68 °F; what was read in bar stays in bar."""
    told = message(
        "listed",
        first=message("listed", first=Amount(quantity="temperature_difference", value=10, unit="K"), last="x"),
        last=Amount(quantity="temperature", value=20, unit="degC"),
    )
    assert catalogue().words(in_system(told, "us"), None) == catalogue().words(
        message(
            "listed",
            first=message("listed", first=Amount(quantity="temperature_difference", value=10, unit="degF"), last="x"),
            last=Amount(quantity="temperature", value=20, unit="degF"),
        ),
        None,
    )
    words = catalogue().words(in_system(told, "us"), None)
    assert "18" in words
    assert "68" in words
    assert in_system(told, "si") == in_system(told, "") == told
    read = message("listed", first=Amount(quantity="pressure_gauge", value=800, unit="bar"), last="x")
    assert in_system(read, "us") == read
