"""The air around the car."""

from __future__ import annotations

from engine.flow.computed.lookup import difference, number
from engine.flow.model import Facts
from engine.physics.atmosphere import AtmosphereError, atmosphere


def atmospheric_pressure(facts: Facts) -> float | None:
    """Pressure of the air, Pa: by barometer, else elevation, else sea level; None if out of range."""
    try:
        return atmosphere(number(facts, "elevation"), number(facts, "barometric_pressure")).pressure
    except AtmosphereError:
        return None


def condenser_air_rise(facts: Facts) -> float | None:
    """Air at the condenser face less ambient, K: above zero, hot air goes round."""
    return difference(facts, "condenser_air_temperature", "ambient_temperature")
