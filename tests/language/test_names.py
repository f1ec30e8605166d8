"""Names and serial numbers in free words."""

import pytest

from assistant.language.names import serial_number


@pytest.mark.parametrize(
    ("told", "written"),
    [
        ("eight eight one four two", "88142"),
        ("8 8 1 4 2.", "88142"),
        ("kilo bravo double one oh seven", "KB1107"),
        ("it's K B dash seven seven one", "KB-771"),
        ("serial number is B 81 42", "B8142"),
        ("S/N: AB-1234", "AB-1234"),
        ("AB 1234", "AB1234"),
    ],
)
def test_a_serial_number_is_kept_as_it_is_written_however_it_is_told(told, written):
    assert serial_number(told) == written


def test_what_is_no_number_holds_no_digit():
    assert not any(sign.isdigit() for sign in serial_number("I cannot read one of them"))
