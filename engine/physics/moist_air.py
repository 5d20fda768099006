"""Moist air: vapour pressure, humidity ratio, dew point, wet bulb, enthalpy, volume.

Formulas: ASHRAE Handbook, Fundamentals (SI), 2017, chapter 1; the equation number stands at each function.
Temperatures in K, pressures in Pa absolute, relative humidity 0 to 1, humidity ratio in kg water per kg dry
air. Range: -60 to 90 degC. The total pressure is always an argument: at 2000 m a kilogram of air holds a
quarter more water.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from engine.physics.units import ZERO_C

_LOWEST_K, _HIGHEST_K = 213.15, 363.15
_GRACE_K = 1e-6  # -60 degC as a double is a hair below 213.15 K

_MASS_RATIO = 0.621945  # of water to dry air; ch. 1 eq. (20)
_DRY_AIR_GAS_CONSTANT = 287.042  # J/(kg K); ch. 1 eq. (1)

# Coefficients of ln(p/Pa) over K: ch. 1 eq. (5), over ice, and eq. (6), over water.
_ICE = (-5.6745359e3, 6.3925247, -9.6778430e-3, 6.2215701e-7, 2.0747825e-9, -9.4840240e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


class MoistAirError(ValueError):
    """A value outside what moist air can be; the message is for the person."""


def saturation_pressure_water(temperature_k: float) -> float:
    """Vapour pressure of water (below 0 degC: of ice) in Pa. Eq. (5) and (6). Raises MoistAirError.

    The handbook's two equations meet a little apart at 0 degC (0.02 %), which no reading here can see.

    >>> round(saturation_pressure_water(298.15), 1)
    3169.2
    """
    if not _LOWEST_K - _GRACE_K <= temperature_k <= _HIGHEST_K + _GRACE_K:
        raise MoistAirError(
            f"{temperature_k - ZERO_C:.1f} degC is outside -60 to 90 degC, where moist air is computed. "
            "Check the number and its unit."
        )
    t = temperature_k
    c1, c2, c3, c4, c5, c6, c7 = _ICE if t < ZERO_C else _WATER
    return math.exp(c1 / t + c2 + t * (c3 + t * (c4 + t * (c5 + t * c6))) + c7 * math.log(t))


def vapour_pressure(temperature_k: float, relative_humidity: float) -> float:
    """Partial pressure of water in Pa. Eq. (22). Raises MoistAirError for a humidity outside 0 to 1."""
    if not 0.0 <= relative_humidity <= 1.0:
        raise MoistAirError("Relative humidity lies between 0 and 100 percent. Check the number.")
    return relative_humidity * saturation_pressure_water(temperature_k)


def humidity_ratio(temperature_k: float, relative_humidity: float, pressure_pa: float) -> float:
    """Water per dry air, kg/kg. Eq. (20). Raises MoistAirError."""
    return _ratio(vapour_pressure(temperature_k, relative_humidity), pressure_pa)


def relative_humidity(temperature_k: float, ratio: float, pressure_pa: float) -> float:
    """Relative humidity of air with `ratio` kg/kg of water; above 1 means fog. Eq. (20) and (22)."""
    partial_pa = pressure_pa * ratio / (_MASS_RATIO + ratio)
    return partial_pa / saturation_pressure_water(temperature_k)


def dew_point(temperature_k: float, relative_humidity: float) -> float:
    """Dew point in K (below 0 degC: frost point): eq. (5) and (6) solved for temperature.

    Preferred to the handbook's curve fits (37) and (38), which are only good to 0.2 K.
    Raises MoistAirError for air so dry that its dew point lies below -60 degC.
    """
    partial_pa = vapour_pressure(temperature_k, relative_humidity)
    if partial_pa < saturation_pressure_water(_LOWEST_K):
        raise MoistAirError("Air as dry as that has no dew point above -60 degC. Check the humidity.")
    return _where(lambda t: saturation_pressure_water(t) - partial_pa, _LOWEST_K, temperature_k)


def humidity_ratio_from_wet_bulb(temperature_k: float, wet_bulb_k: float, pressure_pa: float) -> float:
    """Water per dry air, kg/kg, from a psychrometer. Eq. (33) over water, (35) over ice.

    Negative if the pair cannot occur (wet bulb too far below dry bulb).
    """
    t, wet = temperature_k - ZERO_C, wet_bulb_k - ZERO_C
    saturated = _ratio(saturation_pressure_water(wet_bulb_k), pressure_pa)
    if wet >= 0.0:
        return ((2501.0 - 2.326 * wet) * saturated - 1.006 * (t - wet)) / (2501.0 + 1.86 * t - 4.186 * wet)
    return ((2830.0 - 0.24 * wet) * saturated - 1.006 * (t - wet)) / (2830.0 + 1.86 * t - 2.1 * wet)


def wet_bulb(temperature_k: float, relative_humidity: float, pressure_pa: float) -> float:
    """Wet-bulb temperature in K: eq. (33) and (35) solved for it. Raises MoistAirError.

    Just below 0 degC the two equations both have a solution, a wick of water and one of ice; the wick is
    taken to be wet as long as that can be.
    """
    ratio = humidity_ratio(temperature_k, relative_humidity, pressure_pa)

    def surplus(wet_bulb_k: float) -> float:
        return humidity_ratio_from_wet_bulb(temperature_k, wet_bulb_k, pressure_pa) - ratio

    if temperature_k > ZERO_C and surplus(ZERO_C) <= 0.0:
        return _where(surplus, ZERO_C, temperature_k)
    return _where(surplus, max(_LOWEST_K, temperature_k - 60.0), min(temperature_k, ZERO_C - 1e-6))


def enthalpy(temperature_k: float, ratio: float) -> float:
    """Enthalpy in J per kg dry air, from dry air at 0 degC and liquid water at 0 degC. Eq. (30)."""
    t = temperature_k - ZERO_C
    return 1e3 * (1.006 * t + ratio * (2501.0 + 1.86 * t))


def volume(temperature_k: float, ratio: float, pressure_pa: float) -> float:
    """Volume in m3 per kg dry air. Eq. (26)."""
    return _DRY_AIR_GAS_CONSTANT * temperature_k * (1.0 + ratio / _MASS_RATIO) / pressure_pa


def _ratio(partial_pa: float, pressure_pa: float) -> float:
    if not partial_pa < pressure_pa:
        raise MoistAirError("The air pressure is below that of its water vapour. Check the barometer.")
    return _MASS_RATIO * partial_pa / (pressure_pa - partial_pa)


def _where(rising: Callable[[float], float], low: float, high: float) -> float:
    """Zero of a rising function between `low` and `high`, to 1e-6, by bisection."""
    while high - low > 1e-6:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if rising(middle) >= 0.0 else (middle, high)
    return 0.5 * (low + high)
