"""The evaporator: moist air over a cold surface, refrigerant boiling and then superheating inside.

The coil is described by its surface temperature, from which everything follows in closed form. Air passes by
bypass factor and surface (sensible to the surface, latent to saturation at it); the boiling part of the coil
takes heat as the whole would, in proportion to its share; the rest warms vapour. References: bypass factor
and apparatus dew point, ASHRAE Fundamentals; moving boundary of boiling and superheating by shares of the
face.
"""

from __future__ import annotations

import math

from engine.physics.moist_air import saturation_pressure_water
from engine.vehicle.fluid.table import Fluid
from engine.vehicle.parts.exchangers import Evaporator

AIR_CP = 1006.0
"""J/(kg K), dry air (ASHRAE Fundamentals ch. 1, eq. 30)."""
WATER_CP = 1860.0
WATER_LATENT = 2.501e6
"""J/kg at 0 degC, same source."""

_SMALLEST_FLOW_SHARE = 0.04  # of the sound flow through a coil closed by frost; our assumption
_VAPOUR_POWER = 0.3  # growth of the dry part's conductance with air; our assumption
_FROST_POWER = 1.5  # how air falls as frost fills the gaps; our assumption
_COLDEST_K, _WARMEST_K = 214.0, 340.0  # where a search may look; a settled coil lies well inside
_FOG_PASSES, _WATER_PER_K = 3, 0.065  # saturated water rises by 6 to 7 % a kelvin at 0 to 20 degC
_MOST_OF_APPROACH = 0.9  # a valve asks no superheat beyond this share of (air - evaporating); our assumption


def air_flow(part: Evaporator, blower: float, factor: float, frost_m: float, density: float) -> float:
    """Air through the coil in kg/s; `density` over that at sea level and 20 degC."""
    step = part.air_min_share + (1.0 - part.air_min_share) * blower
    open_share = math.pow(max(1.0 - frost_m / part.frost_closes_m, 0.0), _FROST_POWER)
    return part.air_max_kg_s * step * factor * max(open_share, _SMALLEST_FLOW_SHARE) * density


class Coil:
    """An evaporator with its air: `at(surface)` sets the boiling side, the rest is asked of it."""

    __slots__ = (
        "air", "air_k", "atmosphere", "boil_w", "bypass", "evaporating_k", "latent_full_w", "part", "ratio",
        "refrigerant_w_k", "sensible_w_k", "surface_k", "vapour_w_k",
    )  # fmt: skip

    def __init__(
        self, part: Evaporator, air: float, frost_m: float, atmosphere: float, boiling: float
    ) -> None:
        """`air` in kg/s; `boiling` is a factor on the refrigerant side's heat transfer."""
        self.part, self.air, self.atmosphere = part, air, atmosphere
        growth = math.pow(air / part.reference_air_kg_s, part.conductance_power)
        conductance = part.air_conductance_w_k * growth
        if frost_m > 0.0:
            conductance = 1.0 / (1.0 / conductance + frost_m / (part.frost_conductivity * part.frost_area_m2))
        self.bypass = math.exp(-conductance / (air * AIR_CP))
        self.refrigerant_w_k = part.refrigerant_conductance_w_k * boiling
        self.vapour_w_k = part.vapour_conductance_w_k * math.pow(air / part.reference_air_kg_s, _VAPOUR_POWER)
        self.air_k = self.ratio = self.sensible_w_k = 0.0  # set by `breathe`
        self.surface_k = self.boil_w = self.latent_full_w = self.evaporating_k = 0.0  # set by `at`

    def breathe(self, air_k: float, ratio: float) -> None:
        """Air in: temperature in K, humidity ratio in kg/kg."""
        self.air_k, self.ratio = air_k, ratio
        self.sensible_w_k = self.air * (1.0 - self.bypass) * (AIR_CP + WATER_CP * ratio)

    def at(self, surface_k: float) -> None:
        """Sets the boiling side for a surface temperature below the air's."""
        self.surface_k = surface_k
        wet = self.ratio - self._saturated(surface_k)
        self.latent_full_w = self.air * (1.0 - self.bypass) * WATER_LATENT * wet if wet > 0.0 else 0.0
        self.boil_w = self.sensible_w_k * (self.air_k - surface_k) + self.latent_full_w
        self.evaporating_k = surface_k - self.boil_w / self.refrigerant_w_k

    def share_for(self, superheat: float, boil_j_kg: float, vapour_cp: float) -> float:
        """Share of the coil that boils when it leaves `superheat` K; `boil_j_kg` = vapour less inlet."""
        approach = self.air_k - self.evaporating_k
        rest = 1.0 - min(superheat / approach, _MOST_OF_APPROACH)
        per_share = self.vapour_w_k * boil_j_kg / (self.boil_w * vapour_cp)
        return 1.0 / (1.0 - math.log(rest) / per_share)

    def superheat_of(self, share: float, flow: float, vapour_cp: float) -> float:
        """Superheat in K that `flow` leaves with when `share` (< 1) of the coil boils."""
        units = self.vapour_w_k * (1.0 - share) / (flow * vapour_cp)
        return (self.air_k - self.evaporating_k) * (1.0 - math.exp(-units))

    def air_off(self, cooling_w: float, share: float) -> tuple[float, float, float]:
        """(temperature K, humidity ratio, latent W) of the mixed air off the coil."""
        boiling = min(share, 1.0)
        latent = self.latent_full_w * boiling
        ratio = self.ratio - latent / (WATER_LATENT * self.air)
        cp = AIR_CP + WATER_CP * self.ratio
        kelvin = self.air_k - (cooling_w - latent) / (self.air * cp)
        saturated = self._saturated(kelvin)
        if ratio > saturated:
            kelvin, ratio = self._settle_fog(kelvin, ratio, saturated, cp)
            latent = self.air * (self.ratio - ratio) * WATER_LATENT
        return kelvin, ratio, latent

    def _settle_fog(self, kelvin: float, ratio: float, saturated: float, cp: float) -> tuple[float, float]:
        """Air off wet and dry parts mixes beyond saturation: the excess water falls out and warms it."""
        warmed = kelvin
        for _ in range(_FOG_PASSES):
            excess = cp * (warmed - kelvin) - WATER_LATENT * (ratio - saturated)
            warmed -= excess / (cp + WATER_LATENT * saturated * _WATER_PER_K)
            saturated = self._saturated(warmed)
        return warmed, ratio - cp * (warmed - kelvin) / WATER_LATENT

    def _saturated(self, kelvin: float) -> float:
        partial = saturation_pressure_water(min(max(kelvin, _COLDEST_K), _WARMEST_K))
        return 0.621945 * partial / (self.atmosphere - partial)


def vapour_cp(fluid: Fluid, evaporating_k: float) -> float:
    """Heat capacity of little superheated vapour, J/(kg K)."""
    return fluid.gain(evaporating_k, 8.0) / 8.0
