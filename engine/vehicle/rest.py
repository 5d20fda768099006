"""A circuit at rest: one pressure everywhere, set by the liquid's coldest place, or by all-vapour if little
is left.

Air adds its partial pressure. Not soaked, the coldest place is still warm from running.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.vehicle.charge import Contents
from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects
from engine.vehicle.fluid.table import Fluid, fluid
from engine.vehicle.roots import rising_root
from engine.vehicle.situation import Situation

_WARM_K = 22.0  # how much warmer than ambient the coldest part is right after running; our assumption
_SOAK_MINUTES_OPEN, _SOAK_MINUTES_SHUT = 20.0, 60.0  # time constants, bonnet open and shut; our assumption
_AIR_GAS = 287.04


@dataclass(frozen=True, slots=True)
class Rest:
    """Pressure at rest in Pa absolute with the air's part, K, and whether liquid is there."""

    pressure: float
    air_pressure: float
    kelvin: float
    liquid: bool
    charge_kg: float

    def gauge(self, atmosphere_pa: float) -> float:
        """Pa gauge. Never below 0: what has leaked empty has let air in up to the pressure around."""
        return max(self.pressure - atmosphere_pa, 0.0)


def resting_temperature(situation: Situation) -> float:
    """Temperature in K of the coldest place, where liquid gathers."""
    minutes = _SOAK_MINUTES_OPEN if situation.bonnet_open else _SOAK_MINUTES_SHUT
    warm = _WARM_K * math.exp(-situation.soaked_minutes / minutes)
    return situation.ambient_k + warm + situation.sun_on_condenser_k


def at_rest(vehicle: Vehicle, effects: Effects, kelvin: float) -> Rest:
    """Pressure with everything at `kelvin` and both sides equal."""
    fl, volume = fluid(vehicle.refrigerant), Contents(vehicle, effects).total_m3
    charge = vehicle.charge.label_kg * vehicle.charge.filled * effects.charge_factor
    density = charge / volume
    liquid_rho, vapour_rho = fl.liquid_density(kelvin), fl.vapour_density(kelvin)
    liquid = density > vapour_rho
    gas = volume
    if liquid:
        pressure = fl.pressure(kelvin)
        gas *= max((liquid_rho - density) / (liquid_rho - vapour_rho), 0.05)
    else:
        pressure = _vapour_pressure(fl, density, kelvin)
    air = effects.air_kg * _AIR_GAS * kelvin / gas
    return Rest(pressure * effects.saturation_factor + air, air, kelvin, liquid, charge)


def _vapour_pressure(fl: Fluid, density: float, kelvin: float) -> float:
    """Pressure of vapour of `density` kg/m3, less than saturated, at `kelvin`."""

    def surplus(saturation_k: float) -> float:
        return fl.density(saturation_k, kelvin - saturation_k) - density

    if surplus(fl.first_k) >= 0.0:  # thinner than the table: an ideal gas
        return fl.pressure(fl.first_k) * density / fl.density(fl.first_k, kelvin - fl.first_k)
    place = rising_root(surplus, kelvin - 5.0, fl.first_k, kelvin, 0.5, 1e-6 * density, 1e-9)
    return fl.pressure(place)
