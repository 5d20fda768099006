"""How much refrigerant the circuit holds at a state: the sum over its parts.

Two-phase parts by a void fraction with slip (density ratio)^(1/3), the minimum-entropy model of annular
flow (textbook, from memory), integrated over a
quality that runs evenly along the part.
"""

from __future__ import annotations

import math

from engine.vehicle.condenser import liquid_share, receiver_fill
from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects
from engine.vehicle.fluid.table import Fluid
from engine.vehicle.oil import taken_share


def holdup(ratio: float, first: float, last: float) -> float:
    """Mean share of a tube's volume that is liquid while quality runs from `first` to `last`.

    `ratio` = vapour over liquid density. Closed form of the integral of (1-x) r / (x + (1-x) r), r =
    ratio^(2/3).
    """
    low, high = min(first, last), max(first, last)
    r = math.pow(ratio, 2.0 / 3.0)
    if high - low < 1e-6:
        return (1.0 - low) * r / (low + (1.0 - low) * r)
    u_low, u_high = r + (1.0 - r) * low, r + (1.0 - r) * high
    return r / ((1.0 - r) * (1.0 - r)) * (math.log(u_high / u_low) - (u_high - u_low)) / (high - low)


class Contents:
    """Volumes of a circuit, and what they hold."""

    __slots__ = (
        "accumulator",
        "condenser",
        "condenser_part",
        "evaporator",
        "high",
        "line",
        "low",
        "receiver",
        "wetness",
    )

    def __init__(self, vehicle: Vehicle, effects: Effects) -> None:
        part = vehicle.condenser
        free = 1.0 - taken_share(vehicle, effects)
        self.condenser_part = part
        self.condenser, self.receiver = part.volume_m3 * free, part.receiver_m3 * free
        self.evaporator = vehicle.evaporator.volume_m3 * free
        self.low, self.high = vehicle.lines.low_volume_m3, vehicle.lines.high_volume_m3
        self.line = vehicle.lines.liquid_volume_m3
        self.accumulator = vehicle.metering.accumulator_m3 if vehicle.orifice else 0.0
        self.wetness = vehicle.metering.accumulator_wetness

    @property
    def total_m3(self) -> float:
        """All of the circuit."""
        return (
            self.condenser
            + self.receiver
            + self.evaporator
            + self.low
            + self.high
            + self.line
            + self.accumulator
        )

    def gas_m3(self, level: float) -> float:
        """Volume on the high side that gas (and air in it) fills at a liquid level."""
        liquid = liquid_share(self.condenser_part, level) if level > 0.0 else 0.0
        empty = self.receiver * (1.0 - receiver_fill(self.condenser_part, level))
        return _GAS_IN_TUBES * self.condenser * (1.0 - liquid) + self.high + empty

    def high_side_kg(
        self, fluid: Fluid, condensing_k: float, liquid_k: float, level: float, quality: float
    ) -> float:
        """Condenser, receiver, discharge and liquid line."""
        liquid, vapour = fluid.liquid_density(condensing_k), fluid.vapour_density(condensing_k)
        ratio, difference = vapour / liquid, liquid - vapour
        wet = _GAS_IN_TUBES * holdup(ratio, 1.0, quality)
        flooded = liquid_share(self.condenser_part, level) if level > 0.0 else 0.0
        tubes = flooded * fluid.liquid_density(liquid_k) + (1.0 - flooded) * (vapour + difference * wet)
        line = vapour + difference * (holdup(ratio, quality, quality) if quality > 0.0 else 1.0)
        return (
            self.condenser * tubes
            + self.receiver * (vapour + difference * receiver_fill(self.condenser_part, level))
            + self.line * line
            + self.high * vapour * _HOT_GAS
        )

    def low_side_kg(
        self, fluid: Fluid, evaporating_k: float, suction_rho: float, fill: float, inlet: float, outlet: float
    ) -> float:
        """Evaporator (`fill` boils, quality `inlet` to `outlet`), suction line, accumulator without
        liquid.
        """
        liquid, vapour = fluid.liquid_density(evaporating_k), fluid.vapour_density(evaporating_k)
        wet = fill * holdup(vapour / liquid, min(max(inlet, 0.0), 0.99), outlet)
        coil = self.evaporator * (vapour + (liquid - vapour) * wet)
        return coil + self.accumulator * vapour + self.low * suction_rho

    def reserve_fill(self, level: float, outlet: float) -> float:
        """Share of the accumulator (by the vapour share it lets through) or else of the receiver that is
        liquid."""
        if self.accumulator > 0.0:
            return min((1.0 - outlet) / self.wetness, 1.0)
        return receiver_fill(self.condenser_part, level) if self.receiver > 0.0 else 0.0

    def reserve_kg(self, fluid: Fluid, kelvin: float) -> float:
        """What fills the reserve from empty to full, at the temperature of its liquid."""
        volume = self.accumulator * _ACCUMULATOR_FULL if self.accumulator > 0.0 else self.receiver
        return volume * (fluid.liquid_density(kelvin) - fluid.vapour_density(kelvin))


_GAS_IN_TUBES = 0.85  # share of the condensing part that is not yet hot gas; our assumption
_HOT_GAS = 0.8  # density of discharge gas over saturated vapour; within 10 % at 20-50 K superheat
_ACCUMULATOR_FULL = 0.85  # an accumulator runs over before it is full to the top; our assumption
