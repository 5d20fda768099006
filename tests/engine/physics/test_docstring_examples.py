"""The examples in the docstrings are true."""

from __future__ import annotations

import doctest
import importlib

import pytest

MODULES = ["units", "quantity", "atmosphere", "refrigerant", "moist_air", "solenoid", "command"]


@pytest.mark.parametrize("name", MODULES)
def test_examples(name: str) -> None:
    result = doctest.testmod(importlib.import_module(f"engine.physics.{name}"))
    assert result.attempted > 0
    assert result.failed == 0
