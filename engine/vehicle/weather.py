"""The day and the place a vehicle is examined in, as drawn."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from engine.physics.atmosphere import pressure_at_elevation
from engine.physics.moist_air import saturation_pressure_water
from engine.vehicle.situation import Situation

__all__ = ["AMBIENT_K", "Weather", "draw_weather"]

AMBIENT_K = (288.15, 315.15)
"""15 to 42 degC (issue 3, section 6)."""

_HUMIDITY = (0.25, 0.90)
_DRIEST, _DAMPEST_PA = 0.12, 3360.0  # dew point of 26 degC, as damp as hot places get; our assumption
_LOWLANDS, _LOWLAND_M, _HIGHEST_M = 0.75, 400.0, 2500.0  # three quarters of shops lie low; our assumption
_SOAKED, _SOAK_MINUTES, _SHORT_MINUTES = 0.92, (240.0, 900.0), (20.0, 60.0)  # our assumption


@dataclass(frozen=True, slots=True)
class Weather:
    """SI. `soaked_minutes` is how long the car had stood when the job began."""

    ambient_k: float
    relative_humidity: float
    elevation_m: float
    atmosphere_pa: float
    soaked_minutes: float

    @property
    def situation(self) -> Situation:
        """The settings of a baseline in this weather."""
        return Situation(self.ambient_k, self.relative_humidity, self.atmosphere_pa)


def draw_weather(chance: Random, ambient: tuple[float, float] | None = None) -> Weather:
    """Ambient evenly over `ambient` (K, default AMBIENT_K), humidity evenly but never damper than air
    gets.
    """
    low, high = ambient or AMBIENT_K
    kelvin = chance.uniform(low, high)
    humidity = chance.uniform(*_HUMIDITY)
    humidity = max(min(humidity, _DAMPEST_PA / saturation_pressure_water(kelvin)), _DRIEST)
    elevation = chance.uniform(0.0, _LOWLAND_M)
    if chance.random() > _LOWLANDS:
        elevation = chance.uniform(_LOWLAND_M, _HIGHEST_M)
    minutes = chance.uniform(*(_SOAK_MINUTES if chance.random() < _SOAKED else _SHORT_MINUTES))
    # the mean pressure of the height, and the weather's own few hPa (our assumption: 6 hPa)
    pressure = pressure_at_elevation(elevation) + 600.0 * min(max(chance.gauss(0.0, 1.0), -2.0), 2.0)
    return Weather(kelvin, humidity, elevation, pressure, minutes)
