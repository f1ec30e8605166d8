"""Marks that say which calculation a check stands behind, and of which kind; the table of checks reads them."""

from __future__ import annotations

import pytest
from hypothesis import settings

from tests.calculations.checks import KINDS, MARK_OUTSIDE, MARK_PROPERTY

settings.register_profile("calculations", deadline=None)  # a loaded machine is no fault of a sum
settings.load_profile("calculations")


def pytest_configure(config: pytest.Config) -> None:
    """Register the marks."""
    config.addinivalue_line(
        "markers", f"{MARK_OUTSIDE}(calculation, kind): an outside value, kind of {', '.join(KINDS)}"
    )
    config.addinivalue_line("markers", f"{MARK_PROPERTY}(calculation): a property that holds for every input")
