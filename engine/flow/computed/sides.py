"""Readings of a set that follow from its two pressures and two air temperatures, without any refrigerant."""

from __future__ import annotations

from engine.flow.computed.lookup import difference, number
from engine.flow.model import Facts


def absolute(facts: Facts, gauge_name: str) -> float | None:
    """A gauge reading as absolute pressure, Pa."""
    gauge, around = number(facts, gauge_name), number(facts, "atmospheric_pressure")
    return None if gauge is None or around is None else gauge + around


def pressure_ratio(facts: Facts, set_name: str) -> float | None:
    """High side over low side, both absolute; None in a perfect vacuum."""
    high, low = absolute(facts, f"{set_name}.high_side"), absolute(facts, f"{set_name}.low_side")
    return high / low if high is not None and low is not None and low > 0.0 else None


def sides_apart(facts: Facts, set_name: str) -> float | None:
    """High side less low side, Pa; negative if the low side is the higher."""
    return difference(facts, f"{set_name}.high_side", f"{set_name}.low_side")


def vent_drop(facts: Facts, set_name: str) -> float | None:
    """Intake air less vent air, K; positive when the air is cooled."""
    return difference(facts, f"{set_name}.intake_temperature", f"{set_name}.vent_temperature")
