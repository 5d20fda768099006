"""Pressure of the air around the gauges: from a barometer, else from elevation, else sea level.

A gauge reads against this air: at 2000 m it shows 22 kPa more for the same absolute pressure, which is about
2 K of saturation temperature on the low side.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

SEA_LEVEL_PA = 101325.0
"""Standard atmosphere. ISO 2533:1975; ASHRAE Handbook Fundamentals 2017 ch. 1 table 1."""

_SEA_LEVEL_K = 288.15
_LAPSE_K_PER_M = 0.0065
_EXPONENT = 5.255876  # g0 / (R * lapse): 9.80665 / (287.05287 * 0.0065)

LOWEST_M, HIGHEST_M = -500.0, 11000.0
"""Where the formula holds (the troposphere), in metres above sea level."""

LOWEST_BAROMETER_PA, HIGHEST_BAROMETER_PA = 40e3, 110e3
"""What a barometer can show where vehicles are: 40 kPa is the air at 7200 m."""


class AtmosphereError(ValueError):
    """An elevation or barometer reading outside the possible; the message is for the person."""


@dataclass(frozen=True, slots=True)
class Atmosphere:
    """Absolute pressure of the surrounding air in Pa, and where it is known from."""

    pressure: float
    source: str  # "barometer", "elevation" or "sea level assumed"


def pressure_at_elevation(elevation_m: float) -> float:
    """Standard atmospheric pressure in Pa at `elevation_m` metres, -500 to 11000 m.

    p = 101325 (1 - 0.0065 H / 288.15)^5.255876: ISO 2533:1975; ASHRAE Fundamentals 2017 ch. 1 eq. (3) is the
    same with rounded constants. Weather moves the true pressure by up to about 3 %.
    Raises AtmosphereError outside the range.

    >>> round(pressure_at_elevation(1000))
    89875
    """
    if not LOWEST_M <= elevation_m <= HIGHEST_M:
        raise AtmosphereError(
            f"An elevation of {elevation_m:.0f} m is outside {LOWEST_M:.0f} to {HIGHEST_M:.0f} m "
            "(-1640 to 36089 ft). Check the number and its unit."
        )
    return SEA_LEVEL_PA * math.pow(1.0 - _LAPSE_K_PER_M * elevation_m / _SEA_LEVEL_K, _EXPONENT)


def atmosphere(elevation_m: float | None, barometer_pa: float | None) -> Atmosphere:
    """The air around: a barometer on site wins over elevation, and sea level is assumed without either.

    `barometer_pa` is station pressure, not reduced to sea level as weather reports give it.
    Raises AtmosphereError if what is used is outside its range.
    """
    if barometer_pa is not None:
        if not LOWEST_BAROMETER_PA <= barometer_pa <= HIGHEST_BAROMETER_PA:
            raise AtmosphereError(
                f"A barometer does not read {barometer_pa / 1e3:.1f} kPaa; where vehicles are it reads 40 to "
                "110 kPaa (5.8 to 16 psia). Check the number and its unit."
            )
        return Atmosphere(barometer_pa, "barometer")
    if elevation_m is not None:
        return Atmosphere(pressure_at_elevation(elevation_m), "elevation")
    return Atmosphere(SEA_LEVEL_PA, "sea level assumed")
