"""Superheated vapour of R-134a and R-1234yf: enthalpy, entropy, and where an ideal compression ends.

Interpolated in the shipped grid (`property_table.VapourGrid`) by cubics through four neighbours: within
10 J/kg and 0.02 J/(kg K) of the equation of state. Range: saturation -60 degC to about 10 K below the
critical point, superheat 0 to 100 K, and no further up than the equation of state is valid.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from engine.physics.property_table import Phase, PropertyTable, VapourGrid
from engine.physics.quantity import Kind, show
from engine.physics.refrigerant import RefrigerantError, dew_pressure, dew_temperature, table_for

_Rows = Sequence[Sequence[float]]


def vapour_enthalpy(name: str, pressure_pa: float, temperature_k: float) -> float:
    """Enthalpy in J/kg of vapour at `pressure_pa` absolute and `temperature_k`.

    Raises RefrigerantError below the dew temperature, outside the grid, or for a refrigerant without one.
    """
    grid = _caloric(name)[1]
    return _look_up(grid, grid.enthalpy, *_place(name, grid, pressure_pa, temperature_k))


def vapour_entropy(name: str, pressure_pa: float, temperature_k: float) -> float:
    """Entropy in J/(kg K) of vapour; else as `vapour_enthalpy`."""
    grid = _caloric(name)[1]
    return _look_up(grid, grid.entropy, *_place(name, grid, pressure_pa, temperature_k))


def isentropic_enthalpy(name: str, pressure_pa: float, entropy: float) -> float:
    """Enthalpy in J/kg at `pressure_pa` absolute where vapour has `entropy`, J/(kg K).

    The end of an ideal compression. It may be wet: R-1234yf compressed from little superheat ends inside the
    dome. Raises RefrigerantError outside the grid.
    """
    table, grid = _caloric(name)
    row = _row_place(name, grid, dew_temperature(name, pressure_pa))
    wet = _wet_enthalpy(table, pressure_pa, entropy)
    if wet is not None:
        return wet
    entropies, enthalpies = _across_rows(grid.entropy, row), _across_rows(grid.enthalpy, row)
    if entropy > entropies[-1]:
        raise RefrigerantError(
            f"{name}: an ideal compression would end more than 100 K above dew, outside the table. "
            "Check the suction temperature and both pressures."
        )
    return _cubic(enthalpies, _place_of(entropies, entropy))


def saturated(name: str, temperature_k: float) -> tuple[Phase, Phase, float]:
    """Liquid and vapour curves of a refrigerant with enthalpy, and the place of `temperature_k` on them.

    Raises RefrigerantError if the refrigerant has none or the temperature is outside the table.
    """
    dew_pressure(name, temperature_k)  # raises outside the table
    table = table_for(name)
    if table.liquid is None or table.vapour is None:
        raise _no_enthalpy(name)
    return table.liquid, table.vapour, table.place(temperature_k)


def _no_enthalpy(name: str) -> RefrigerantError:
    return RefrigerantError(f"There is no enthalpy for {name}: the tables hold its saturation only.")


def _caloric(name: str) -> tuple[PropertyTable, VapourGrid]:
    table = table_for(name)
    if table.superheated is None:
        raise _no_enthalpy(name)
    return table, table.superheated


def _place(name: str, grid: VapourGrid, pressure_pa: float, temperature_k: float) -> tuple[float, float]:
    saturation_k = dew_temperature(name, pressure_pa)
    superheat_k = temperature_k - saturation_k
    highest_k = min(grid.highest_temperature_k, saturation_k + _largest_superheat(grid))
    if superheat_k < -1e-6:
        raise RefrigerantError(
            f"{name} is no vapour at {_degrees(temperature_k)}: at that pressure its dew temperature is "
            f"{_degrees(saturation_k)}. Check the reading."
        )
    if temperature_k > highest_k:
        raise RefrigerantError(
            f"{_degrees(temperature_k)} is above the vapour table of {name}, which ends at "
            f"{_degrees(highest_k)} at that pressure. Check the reading."
        )
    return _row_place(name, grid, saturation_k), math.sqrt(max(superheat_k, 0.0)) / grid.root_step


def _degrees(temperature_k: float) -> str:
    return show(temperature_k, Kind.TEMPERATURE, "degC")


def _largest_superheat(grid: VapourGrid) -> float:
    return ((len(grid.enthalpy[0]) - 1) * grid.root_step) ** 2


def _row_place(name: str, grid: VapourGrid, saturation_k: float) -> float:
    place = (saturation_k - grid.first_saturation_k) / grid.saturation_step_k
    last = len(grid.enthalpy) - 1
    if place > last:
        top = grid.first_saturation_k + last * grid.saturation_step_k
        raise RefrigerantError(
            f"{name}: condensing at {_degrees(saturation_k)} is above the vapour table, "
            f"which ends at {_degrees(top)}. Check the high-side gauge."
        )
    return place


def _look_up(grid: VapourGrid, rows: _Rows, row: float, column: float) -> float:
    return _cubic(_across_rows(rows, row), column)


def _across_rows(rows: _Rows, place: float) -> list[float]:
    return [_cubic(column, place) for column in zip(*rows, strict=True)]


def _cubic(values: Sequence[float], place: float) -> float:
    """The cubic through the four nodes around `place` (Lagrange), node number as coordinate."""
    first = min(max(int(place) - 1, 0), len(values) - 4)
    t = place - first
    a, b, c = t - 1.0, t - 2.0, t - 3.0
    v0, v1, v2, v3 = values[first : first + 4]
    return -v0 * a * b * c / 6.0 + v1 * t * b * c / 2.0 - v2 * t * a * c / 2.0 + v3 * t * a * b / 6.0


def _place_of(rising: Sequence[float], value: float) -> float:
    low, high = 0.0, float(len(rising) - 1)
    while high - low > 1e-9:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _cubic(rising, middle) < value else (low, middle)
    return 0.5 * (low + high)


def _wet_enthalpy(table: PropertyTable, pressure_pa: float, entropy: float) -> float | None:
    """Enthalpy in the two-phase region, or None if `entropy` is that of superheated vapour."""
    liquid, vapour, place = saturated(table.name, table.temperature(pressure_pa))
    s_liquid, s_vapour = liquid.entropy.at(place), vapour.entropy.at(place)
    if entropy >= s_vapour:
        return None
    quality = (entropy - s_liquid) / (s_vapour - s_liquid)
    return liquid.enthalpy.at(place) * (1.0 - quality) + vapour.enthalpy.at(place) * quality
