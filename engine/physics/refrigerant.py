"""Saturation of refrigerants: dew and bubble pressure and temperature, superheat, subcooling.

R-134a, R-1234yf, R-152a and R-744 are single substances, so dew and bubble coincide; both names are kept
because the readings they belong to differ (superheat is counted from dew, subcooling from bubble), and a
blend would part them. Values come from the shipped tables (`property_table`), from -60 degC (R-744: -56 degC)
to half a kelvin below the critical point. All pressures here are absolute.
"""

from __future__ import annotations

import math

from engine.physics.atmosphere import SEA_LEVEL_PA
from engine.physics.property_table import REFRIGERANTS, TABLE_VERSION, PropertyTable, load
from engine.physics.quantity import Kind, show, units_of

__all__ = [
    "REFRIGERANTS",
    "TABLE_VERSION",
    "RefrigerantError",
    "bubble_pressure",
    "bubble_temperature",
    "critical_point",
    "dew_pressure",
    "dew_temperature",
    "saturation_gauge_pressure",
    "subcooling",
    "superheat",
    "table_for",
]

# A table's ends stay inside it after a conversion and back: -60 degC as a double is a hair below 213.15 K.
_GRACE_K = 1e-6
_GRACE = 1e-7  # of pressure; more than a millionth of a kelvin is worth at any end


class RefrigerantError(ValueError):
    """A value outside what the refrigerant or its table can do; the message is for the person."""


def table_for(name: str) -> PropertyTable:
    """The property table of `name`. Raises RefrigerantError if there is none."""
    if name not in REFRIGERANTS:
        known = ", ".join(REFRIGERANTS)
        raise RefrigerantError(
            f"There are no property tables for refrigerant {name!r}; there are for {known}."
        )
    return load(name)


def critical_point(name: str) -> tuple[float, float]:
    """Critical temperature in K and pressure in Pa absolute. Raises RefrigerantError for an unknown name."""
    table = table_for(name)
    return table.critical_temperature_k, table.critical_pressure_pa


def dew_pressure(
    name: str,
    temperature_k: float,
    *,
    temperature_unit: str = "degC",
) -> float:
    """Pressure in Pa absolute at which vapour of `temperature_k` begins to condense.

    Raises RefrigerantError outside the table, telling both ends in `temperature_unit`.

    >>> round(dew_pressure("R-134a", 293.15) / 1e3, 1)
    571.7
    """
    table = table_for(name)
    low_k, high_k = table.low_temperature_k, table.high_temperature_k
    if not low_k - _GRACE_K <= temperature_k <= high_k + _GRACE_K:
        raise RefrigerantError(_temperature_sentence(table, temperature_k, temperature_unit))
    return table.pressure(temperature_k)


def bubble_pressure(name: str, temperature_k: float, *, temperature_unit: str = "degC") -> float:
    """Pressure in Pa absolute at which liquid of `temperature_k` begins to boil; else as `dew_pressure`."""
    return dew_pressure(name, temperature_k, temperature_unit=temperature_unit)


def dew_temperature(
    name: str,
    pressure_pa: float,
    *,
    pressure_unit: str = "kPaa",
    temperature_unit: str = "degC",
    atmosphere_pa: float = SEA_LEVEL_PA,
) -> float:
    """Temperature in K at which vapour at `pressure_pa` absolute begins to condense.

    The last three arguments only word the error: a gauge unit is told as gauge above `atmosphere_pa`.
    Raises RefrigerantError outside the table, naming both ends and the remedy.

    >>> round(dew_temperature("R-134a", 571.7e3) - 273.15, 1)
    20.0
    """
    table = table_for(name)
    low, high = table.low_pressure_pa * (1 - _GRACE), table.high_pressure_pa * (1 + _GRACE)
    if not low <= pressure_pa <= high:
        raise RefrigerantError(
            _pressure_sentence(table, pressure_pa, pressure_unit, temperature_unit, atmosphere_pa)
        )
    return table.temperature(pressure_pa)


def bubble_temperature(
    name: str,
    pressure_pa: float,
    *,
    pressure_unit: str = "kPaa",
    temperature_unit: str = "degC",
    atmosphere_pa: float = SEA_LEVEL_PA,
) -> float:
    """Temperature in K at which liquid at `pressure_pa` absolute begins to boil; as `dew_temperature`."""
    return dew_temperature(
        name,
        pressure_pa,
        pressure_unit=pressure_unit,
        temperature_unit=temperature_unit,
        atmosphere_pa=atmosphere_pa,
    )


def superheat(name: str, pressure_pa: float, temperature_k: float) -> float:
    """How far vapour at `pressure_pa` absolute is above its dew temperature, in K (a difference).

    Negative means colder than saturated vapour can be: a reading is wrong, or the contents are. Raises
    RefrigerantError outside the table, and for R-744, of which the tables hold saturation only.
    """
    _require_more_than_saturation(name)
    return temperature_k - dew_temperature(name, pressure_pa)


def subcooling(name: str, pressure_pa: float, temperature_k: float) -> float:
    """How far liquid at `pressure_pa` absolute is below its bubble temperature, in K; else as `superheat`."""
    _require_more_than_saturation(name)
    return bubble_temperature(name, pressure_pa) - temperature_k


def saturation_gauge_pressure(name: str, temperature_k: float, atmosphere_pa: float) -> float:
    """What a gauge shows at rest with liquid present: dew pressure less the air around, in Pa gauge.

    Raises RefrigerantError outside the table (R-744 in a hot bay has no saturation).
    """
    return dew_pressure(name, temperature_k) - atmosphere_pa


def _require_more_than_saturation(name: str) -> None:
    if name == "R-744":
        raise RefrigerantError(
            "R-744 has no superheat or subcooling here: its high side works above the critical point."
        )


def _temperature_sentence(table: PropertyTable, temperature_k: float, unit: str) -> str:
    def words(kelvin: float) -> str:
        return show(kelvin, Kind.TEMPERATURE, unit)

    if not math.isfinite(temperature_k):
        return f"{table.name}: the temperature is not a number."
    if temperature_k > table.critical_temperature_k:
        return (
            f"{table.name} has no saturation at {words(temperature_k)}: at or above its critical point of "
            f"{words(table.critical_temperature_k)} liquid and vapour are one. Use "
            f"{words(table.low_temperature_k)} to {words(table.high_temperature_k)}."
        )
    return (
        f"{words(temperature_k)} is outside the table of {table.name}, which goes from "
        f"{words(table.low_temperature_k)} to {words(table.high_temperature_k)}. Check number and unit."
    )


def _pressure_sentence(
    table: PropertyTable, pressure_pa: float, unit: str, temperature_unit: str, atmosphere_pa: float
) -> str:
    absolute = unit in units_of(Kind.ABSOLUTE_PRESSURE)

    def words(absolute_pa: float) -> str:
        if absolute:
            return show(absolute_pa, Kind.ABSOLUTE_PRESSURE, unit)
        return show(absolute_pa - atmosphere_pa, Kind.PRESSURE, unit)

    def end(pressure: float, temperature_k: float) -> str:
        return f"{words(pressure)} ({show(temperature_k, Kind.TEMPERATURE, temperature_unit)})"

    if not math.isfinite(pressure_pa):
        return f"{table.name}: the pressure is not a number."
    side = "below" if pressure_pa < table.low_pressure_pa else "above"
    why = (
        ""
        if side == "below"
        else f" The critical point, where condensing ends, is at {words(table.critical_pressure_pa)}."
    )
    return (
        f"{words(pressure_pa)} is {side} the table of {table.name}, which goes from "
        f"{end(table.low_pressure_pa, table.low_temperature_k)} to "
        f"{end(table.high_pressure_pa, table.high_temperature_k)}.{why} Check gauge, number and unit."
    )
