"""Saturation to full precision. Only `loadstep saturation` imports this: CoolProp costs over a second."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from CoolProp import CoolProp

FLUIDS = {"R-134a": "R134a", "R-1234yf": "R1234yf", "R-152a": "R152A", "R-744": "CO2"}
"""Our names and CoolProp's; the equations of state are named in CoolProp's fluid pages."""

_BUBBLE, _DEW = 0.0, 1.0  # vapour quality
_MARGIN = 1e-4
"""Share of the critical temperature or pressure that is left out: there the phases cannot be told apart."""


@dataclass(frozen=True, slots=True)
class Point:
    """One end of condensation: temperature in K, pressure in Pa absolute."""

    temperature: float
    pressure: float


@dataclass(frozen=True, slots=True)
class Span:
    """Where there is a dew and a bubble point: from the triple point to just below the critical point."""

    low: Point
    high: Point
    critical: Point


class Saturation:
    """Dew and bubble points of one of FLUIDS. Arguments outside `span` are the caller's to refuse."""

    def __init__(self, refrigerant: str) -> None:
        self._state: Any = CoolProp.AbstractState("HEOS", FLUIDS[refrigerant])
        critical = Point(self._state.T_critical(), self._state.p_critical())
        high = critical.pressure * (1 - _MARGIN)
        self.span = Span(
            low=self.dew_at_temperature(self._state.Ttriple()),
            high=Point(self.dew_at_pressure(high).temperature, high),
            critical=critical,
        )

    def dew_at_temperature(self, kelvin: float) -> Point:
        return self._at_temperature(_DEW, kelvin)

    def bubble_at_temperature(self, kelvin: float) -> Point:
        return self._at_temperature(_BUBBLE, kelvin)

    def dew_at_pressure(self, pascal: float) -> Point:
        return self._at_pressure(_DEW, pascal)

    def bubble_at_pressure(self, pascal: float) -> Point:
        return self._at_pressure(_BUBBLE, pascal)

    def _at_temperature(self, quality: float, kelvin: float) -> Point:
        self._state.update(CoolProp.QT_INPUTS, quality, kelvin)
        return Point(kelvin, self._state.p())

    def _at_pressure(self, quality: float, pascal: float) -> Point:
        self._state.update(CoolProp.PQ_INPUTS, pascal, quality)
        return Point(self._state.T(), pascal)
