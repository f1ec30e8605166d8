"""Marks that a test earns by what it asks for."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whatever uses the sound card of these tests is live. Files with slow or live tests come first.

    Several processes share the files out in this order, and none is left alone with a long one at the end.
    """
    for item in items:
        if "sound_card" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.live)
    long = {item.path for item in items if item.get_closest_marker("slow") or item.get_closest_marker("live")}
    items.sort(key=lambda item: item.path not in long)
