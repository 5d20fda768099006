"""Facts of a system whose contents an identifier proved, to work values out from."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.model import Value
from engine.job.facts import Facts

ZERO_C = 273.15


def facts(given: Mapping[str, Value] | None = None, **more: Value) -> Facts:
    """Facts of a proved R-134a system at sea level, and what is given."""
    base: dict[str, Value] = {"refrigerant": "R-134a", "contamination": frozenset({"none"})}
    return Facts({**base, **(given or {}), **more})


def celsius(value: float) -> float:
    return value + ZERO_C
