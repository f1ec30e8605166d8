"""Marks that a test earns by what it asks for."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whatever uses the sound card of these tests is live."""
    for item in items:
        if "sound_card" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.live)
