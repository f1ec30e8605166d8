"""Benchmarks are run by hand, where what breaks them stays unseen: each can at least be loaded."""

from __future__ import annotations

import importlib
import pkgutil

import pytest

import tests.benchmarks


@pytest.mark.parametrize("name", [module.name for module in pkgutil.iter_modules(tests.benchmarks.__path__)])
def test_each_can_be_loaded(name: str) -> None:
    module = importlib.import_module(f"tests.benchmarks.{name}")
    assert (module.__doc__ or "").strip()
