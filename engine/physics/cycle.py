"""The ideal vapour-compression cycle on a pressure-enthalpy chart (R-134a, R-1234yf).

Ideal means: no pressure loss in either side, compression without loss (constant entropy), expansion without
heat (constant enthalpy). A real discharge is hotter; where its temperature was measured it is a point of its
own. Pressures are absolute, enthalpies count from saturated liquid at 0 degC = 200 kJ/kg.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.physics.refrigerant import (
    RefrigerantError,
    bubble_temperature,
    critical_point,
    dew_pressure,
    dew_temperature,
)
from engine.physics.vapour import isentropic_enthalpy, saturated, vapour_enthalpy, vapour_entropy

CYCLE_REFRIGERANTS = ("R-134a", "R-1234yf")

_LOWEST_DOME_K = 233.15


@dataclass(frozen=True, slots=True)
class CyclePoint:
    """A corner of the cycle: enthalpy in J/kg, pressure in Pa absolute."""

    name: str
    enthalpy: float
    pressure: float


def cycle_points(
    name: str,
    low_pressure_pa: float,
    high_pressure_pa: float,
    suction_superheat_k: float,
    subcooling_k: float,
    discharge_temperature_k: float | None = None,
) -> tuple[CyclePoint, ...]:
    """The corners in the order the refrigerant takes them, from suction to the evaporator's inlet.

    `suction`, `ideal discharge`, `measured discharge` (only with a discharge temperature),
    `condenser outlet`, `evaporator inlet`. Superheat and subcooling are differences in K, from 0 up; a
    negative one (wet suction, flash gas) is drawn as 0, on the dome. Liquid is taken at saturation for its
    temperature: at 10 K of subcooling and condensing up to 60 degC that costs under 0.25 kJ/kg. Raises
    RefrigerantError outside the tables, or if the high side is not above the low side.
    """
    if high_pressure_pa <= low_pressure_pa:
        raise RefrigerantError("There is no cycle to draw: the high side is not above the low side.")
    suction_k = dew_temperature(name, low_pressure_pa) + max(suction_superheat_k, 0.0)
    entropy = vapour_entropy(name, low_pressure_pa, suction_k)
    liquid_h = _liquid_enthalpy(name, bubble_temperature(name, high_pressure_pa) - max(subcooling_k, 0.0))
    points = [
        CyclePoint("suction", vapour_enthalpy(name, low_pressure_pa, suction_k), low_pressure_pa),
        CyclePoint("ideal discharge", isentropic_enthalpy(name, high_pressure_pa, entropy), high_pressure_pa),
    ]
    if discharge_temperature_k is not None:
        measured_h = vapour_enthalpy(name, high_pressure_pa, discharge_temperature_k)
        points.append(CyclePoint("measured discharge", measured_h, high_pressure_pa))
    points.append(CyclePoint("condenser outlet", liquid_h, high_pressure_pa))
    points.append(CyclePoint("evaporator inlet", liquid_h, low_pressure_pa))
    return tuple(points)


def dome(name: str, points: int = 60) -> tuple[tuple[float, float], ...]:
    """The saturation dome as (enthalpy J/kg, pressure Pa absolute): up the liquid side, down the vapour side.

    From -40 degC to half a kelvin below the critical point, closer together towards the top. `points` (2 or
    more) a side. Raises RefrigerantError for a refrigerant without enthalpy.
    """
    top_k = critical_point(name)[0] - 0.51
    temperatures = [top_k - (top_k - _LOWEST_DOME_K) * (1.0 - i / (points - 1)) ** 2 for i in range(points)]
    liquid_side, vapour_side = [], []
    for temperature_k in temperatures:
        liquid, vapour, place = saturated(name, temperature_k)
        pressure_pa = dew_pressure(name, temperature_k)
        liquid_side.append((liquid.enthalpy.at(place), pressure_pa))
        vapour_side.append((vapour.enthalpy.at(place), pressure_pa))
    return (*liquid_side, *reversed(vapour_side))


def _liquid_enthalpy(name: str, temperature_k: float) -> float:
    liquid, _, place = saturated(name, temperature_k)
    return liquid.enthalpy.at(place)
