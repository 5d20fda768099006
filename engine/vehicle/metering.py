"""Expansion valve and orifice tube: how much passes between two pressures through liquid line and device.

An incompressible throat behind the resistance of line and drier, its density that of the mixture if vapour
arrives (vena contracta and slip are in the effective area). An orifice tube chokes at a pressure that hangs
on the liquid's temperature, so that subcooling drives it (the short-tube behaviour in ASHRAE Refrigeration).
"""

from __future__ import annotations

import math

from engine.vehicle.fault_effects import Effects
from engine.vehicle.fluid.table import Fluid
from engine.vehicle.parts.circuit import Lines, Metering
from engine.vehicle.roots import rising_root

_LEAST_OPENING = 1e-4
_LEAST_SHARE = 1e-3  # of the flow without boiling, where the search for it begins
_FLASH_TOLERANCE = 1e-6
_CHILLED = 0.03  # opening of a sound valve with ice on its head; our assumption


class Throat:
    """The way from condenser outlet to evaporator."""

    __slots__ = ("area", "choke", "fluid", "high", "low", "resistance", "superheat", "valve")

    def __init__(
        self, part: Metering, lines: Lines, effects: Effects, ice: float, head: str, fluid: Fluid
    ) -> None:
        self.fluid = fluid
        self.valve = part.device == "valve"
        self.area = part.area_m2 if self.valve else part.orifice_area_m2
        self.choke, self.superheat = part.choke, part.superheat_k
        self.resistance = lines.liquid_loss + effects.liquid_resistance
        free = max(1.0 - ice, _LEAST_OPENING)
        self.high = max(effects.opening_high * free, _LEAST_OPENING)
        self.low = min(max(part.opening_min, effects.opening_low) * free, self.high)
        if head == "chilled" and self.valve:  # closes as far as it goes
            self.high = max(self.low, min(self.high, _CHILLED))
        if head == "warmed" or not self.valve:  # a warmed valve stands open as far as it goes
            self.low = self.high

    def limits(
        self, condensed_pa: float, evaporating_pa: float, liquid_k: float, enthalpy: float, quality: float
    ) -> tuple[float, float]:
        """(least, most) flow in kg/s the device can pass at its opening limits.

        `enthalpy` and `quality` (vapour share) are those at the condenser outlet, `liquid_k` its temperature.
        """
        end = evaporating_pa
        if not self.valve:
            end = max(end, self.choke * self.fluid.pressure(liquid_k))
        drop = condensed_pa - end
        if drop <= 0.0:
            return 0.0, 0.0
        rho = self._density(liquid_k, quality)
        most = self._flow(drop, rho, self.high)
        boils_pa = self.fluid.pressure(liquid_k)
        if quality <= 0.0 and condensed_pa - self.resistance * most * most < boils_pa:
            most = self._flashing(condensed_pa, end, boils_pa, enthalpy, most)
        least = self._flow(drop, rho, self.low) if self.low > 0.0 else 0.0
        return min(least, most), most

    def quality_before(
        self, condensed_pa: float, flow: float, enthalpy: float, evaporating_pa: float
    ) -> float:
        """Vapour share before the device at the settled flow, 0 = solid liquid."""
        before = max(condensed_pa - self.resistance * flow * flow, evaporating_pa)
        kelvin = self.fluid.saturation(before)
        liquid = self.fluid.liquid_enthalpy(kelvin)
        if enthalpy <= liquid:
            return 0.0
        return (enthalpy - liquid) / (self.fluid.vapour_enthalpy(kelvin) - liquid)

    def opening(self, flow: float, most: float) -> float:
        """Share of its full area the device stands open at, passing `flow` where `most` could pass."""
        if not self.valve or most <= 0.0:
            return self.high
        return self.high * min(flow / most, 1.0)

    def _flow(self, drop: float, rho: float, opening: float) -> float:
        throat = 1.0 / (2.0 * rho * (self.area * opening) ** 2)
        return math.sqrt(drop / (throat + self.resistance))

    def _density(self, kelvin: float, quality: float) -> float:
        liquid = self.fluid.liquid_density(kelvin)
        if quality <= 0.0:
            return liquid
        return 1.0 / (quality / self.fluid.vapour_density(kelvin) + (1.0 - quality) / liquid)

    def _flashing(
        self, condensed_pa: float, end: float, boils_pa: float, enthalpy: float, solid: float
    ) -> float:
        """Flow in kg/s when liquid boils in the line before the device, which then sees a mixture.

        Between the flow at which it begins to boil and `solid`, what would flow if it did not.
        """
        area = 2.0 * (self.area * self.high) ** 2

        def surplus(flow: float) -> float:
            before = condensed_pa - self.resistance * flow * flow
            passes = area * self._flashed(before, enthalpy) * max(before - end, 0.0)
            return 1.0 - passes / (flow * flow)

        begins = math.sqrt(max(condensed_pa - boils_pa, 0.0) / self.resistance)
        low = max(begins, _LEAST_SHARE * solid)
        return rising_root(surplus, low, low, solid, 4.0 / solid, _FLASH_TOLERANCE, 1e-6 * solid)

    def _flashed(self, before_pa: float, enthalpy: float) -> float:
        kelvin = self.fluid.saturation(max(before_pa, 30e3))
        liquid, vapour = self.fluid.liquid_enthalpy(kelvin), self.fluid.vapour_enthalpy(kelvin)
        return self._density(kelvin, min(max((enthalpy - liquid) / (vapour - liquid), 0.0), 1.0))
