"""The air around the car."""

from __future__ import annotations

from engine.flow.computed.lookup import difference, number
from engine.flow.model import Facts
from engine.physics.atmosphere import AtmosphereError, atmosphere
from engine.physics.moist_air import MoistAirError, dew_point, wet_bulb


def atmospheric_pressure(facts: Facts) -> float | None:
    """Pressure of the air, Pa: by barometer, else elevation, else sea level; None if out of range."""
    try:
        return atmosphere(number(facts, "elevation"), number(facts, "barometric_pressure")).pressure
    except AtmosphereError:
        return None


def condenser_air_rise(facts: Facts) -> float | None:
    """Air at the condenser face less ambient, K: above zero, hot air goes round."""
    return difference(facts, "condenser_air_temperature", "ambient_temperature")


def ambient_dew_point(facts: Facts) -> float | None:
    """Dew point of the air outside, K; None in air too dry to have one above -60 degC."""
    air, humidity = number(facts, "ambient_temperature"), number(facts, "relative_humidity")
    if air is None or humidity is None:
        return None
    try:
        return dew_point(air, humidity)
    except MoistAirError:
        return None


def ambient_wet_bulb(facts: Facts) -> float | None:
    """Wet-bulb temperature of the air outside, K."""
    air, humidity = number(facts, "ambient_temperature"), number(facts, "relative_humidity")
    around = number(facts, "atmospheric_pressure")
    if air is None or humidity is None or around is None:
        return None
    try:
        return wet_bulb(air, humidity, around)
    except MoistAirError:
        return None
