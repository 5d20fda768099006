"""The condenser: air that a fan or wind moves, hot air that comes round, condensing and subcooling parts.

Effectiveness with one side at constant temperature, e = 1 - exp(-NTU) (ASHRAE Fundamentals, heat exchangers);
condensing and liquid parts share the face. How far liquid stands is one number, the `level`: below zero it is
minus the vapour share at the outlet, from zero on the liquid takes face: first the subcooler, then (while the
receiver fills) no more, then the condensing part floods.
"""

from __future__ import annotations

import math

from engine.vehicle.evaporator import AIR_CP
from engine.vehicle.parts.exchangers import Condenser

LIQUID_CP = 1450.0
"""J/(kg K) of liquid refrigerant at 40 degC, both refrigerants within 3 %."""

RECEIVER_SPAN = 0.10
"""Width of the level over which the receiver fills; a matter of numbering only."""
LOWEST_LEVEL, FLOOD_LIMIT = -0.97, 0.92

_USUAL_DESUPERHEAT = 35e3
"""J/kg from hot gas to saturated vapour, about 35 K of superheat."""

_WET_FACTOR = 1.9  # gain of conductance from mist evaporating on the fins; our assumption
_AIR_AREA = 0.9  # how strongly air in the gas blankets the tubes, per share of pressure; our assumption


def fan_share(part: Condenser, gauge_pa: float) -> float:
    """0 = low speed, 1 = full, asked for by the high-side sensor."""
    ramp = (gauge_pa - part.fan_ramp_from_pa) / (part.fan_ramp_to_pa - part.fan_ramp_from_pa)
    return min(max(ramp, 0.0), 1.0)


class Face:
    """A condenser with its air in one situation."""

    __slots__ = (
        "area",
        "density",
        "draught",
        "fan_high",
        "fan_low",
        "inlet_k",
        "part",
        "recirculated",
        "wet",
    )

    def __init__(
        self,
        part: Condenser,
        ambient_k: float,
        density: float,
        *,
        fan: float,
        airflow: float,
        front_air_m_s: float,
        hot_share: float,
        area: float,
        wetted: bool,
    ) -> None:
        """`density` of air over that at sea level and 20 degC; the rest as in Effects and Situation."""
        self.part, self.inlet_k, self.density, self.area = part, ambient_k, density, area
        ram = part.ram_kg_s_per_m_s * front_air_m_s
        self.draught = (part.draught_kg_s + ram) * airflow * density
        self.fan_low, self.fan_high = (
            f * fan * airflow * density for f in (part.fan_low_kg_s, part.fan_high_kg_s)
        )
        standing = 1.0 / (1.0 + front_air_m_s)
        self.recirculated = min(part.recirculated_share * standing + hot_share, 0.6)
        self.wet = _WET_FACTOR if wetted else 1.0

    def air(self, fan: float) -> float:
        """Air through the face in kg/s at a fan share: what fan and wind move, added as powers."""
        fan_air = self.fan_low + (self.fan_high - self.fan_low) * fan
        return float((self.draught**1.5 + fan_air**1.5) ** (2.0 / 3.0))

    def conductance(self, fan: float) -> float:
        """W/K from refrigerant to ambient for the whole face, hot air that comes round included."""
        air = self.air(fan)
        capacity = air * AIR_CP
        part = self.part
        own = part.conductance_w_k * (air / part.reference_air_kg_s) ** part.conductance_power
        effectiveness = 1.0 - math.exp(-own * self.wet * self.area / capacity)
        round_factor = self.recirculated / (1.0 - self.recirculated)
        return effectiveness * capacity / (1.0 + effectiveness * round_factor) + part.still_air_w_k

    def blanket(self, air_share: float) -> float:
        """Factor on the conductance when `air_share` of the gas pressure is air."""
        return 1.0 / (1.0 + _AIR_AREA * air_share)

    def air_temperatures(self, heat_w: float, fan: float) -> tuple[float, float]:
        """(at the face, behind it) in K for the heat given off."""
        capacity = self.air(fan) * AIR_CP
        face_k = self.inlet_k + self.recirculated / (1.0 - self.recirculated) * heat_w / capacity
        return face_k, face_k + heat_w / capacity


def liquid_share(part: Condenser, level: float) -> float:
    """Share of the face that liquid takes at a level from 0 up."""
    if part.receiver_m3 <= 0.0 or level <= part.subcooler_share:
        return min(level, FLOOD_LIMIT)
    if level <= part.subcooler_share + RECEIVER_SPAN:
        return part.subcooler_share
    return min(level - RECEIVER_SPAN, FLOOD_LIMIT)


def receiver_fill(part: Condenser, level: float) -> float:
    """Share of the receiver that is liquid."""
    return min(max((level - part.subcooler_share) / RECEIVER_SPAN, 0.0), 1.0)


def liquid_exit(part: Condenser, share: float, latent: float, hot_k: float, air_k: float) -> float:
    """Temperature in K of the liquid that leaves a liquid part of `share` of the face.

    The flow is what the condensing part gives off over its fall in enthalpy (`latent` and the heat of a usual
    superheat), so that conductance drops out of the number of transfer units.
    """
    lift = hot_k - air_k
    if lift <= 0.0 or share <= 0.0:
        return hot_k
    fall = latent + _USUAL_DESUPERHEAT
    units = share * part.subcooler_power * fall / ((1.0 - share) * lift * LIQUID_CP)
    return air_k + lift * math.exp(-units)


def condensing_flow(share: float, conductance: float, latent: float, lift: float) -> float:
    """kg/s by the same reckoning; near the true flow when the heat is in balance."""
    return (1.0 - share) * conductance * max(lift, 0.0) / (latent + _USUAL_DESUPERHEAT)
