"""Air into the blower, and from the coil to the vents.

The cabin is one well-mixed mass of air with near surfaces: dT/dt = (gain (ambient - T) + sun - vents) / C,
whose answer after a time is exact for the vent air of that time. Vents: duct gain, air that leaks past the
blend door through the heater core, and the spread of a coil that is only partly fed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.physics.moist_air import humidity_ratio
from engine.vehicle.evaporator import AIR_CP
from engine.vehicle.fault_effects import Effects
from engine.vehicle.parts.cabin import Cabin
from engine.vehicle.situation import Situation

_DOORS_GAIN_W_K, _DOORS_INFILTRATION_KG_S = 1500.0, 1.2  # all doors open; our assumption
_HEATER_EFFECTIVENESS = 0.7  # of a heater core for the little air that passes it; our assumption
_STARVED_SPREAD = 0.6  # share of a dry coil's warm air that reaches one side first; our assumption


@dataclass(frozen=True, slots=True)
class Air:
    """Temperature K, humidity ratio kg/kg."""

    kelvin: float
    ratio: float


class Intake:
    """Where the blower draws its air from in one situation."""

    def __init__(self, part: Cabin, effects: Effects, situation: Situation) -> None:
        self.part, self.situation = part, situation
        s = situation
        ratio = humidity_ratio(s.ambient_k, s.relative_humidity, s.atmosphere_pa)
        self.outside = Air(s.ambient_k, ratio)
        warmed = part.fresh_over_ambient_k if s.engine_speed > 0.0 else 0.0
        self.fresh = Air(s.ambient_k + warmed, ratio)
        self.recirculates = (effects.intake_stuck or s.intake) == "recirculation"
        start_k = s.ambient_k if s.cabin_start_k is None else s.cabin_start_k
        self.start = Air(start_k, ratio if s.cabin_start_ratio is None else s.cabin_start_ratio)
        self.gain_w_k, self.infiltration = part.gain_w_k, part.infiltration_kg_s
        if s.doors_open:
            self.gain_w_k, self.infiltration = _DOORS_GAIN_W_K, _DOORS_INFILTRATION_KG_S
        elif s.windows_open:
            self.gain_w_k, self.infiltration = part.gain_windows_w_k, part.infiltration_windows_kg_s

    def cabin(self, vent: Air, flow: float) -> Air:
        """Cabin air after the settling time with `flow` kg/s of `vent` air blown in."""
        part, out, seconds = self.part, self.outside, self.situation.settled_s
        moved = flow * AIR_CP
        rate = self.gain_w_k + moved
        end_k = (self.gain_w_k * out.kelvin + part.sun_w + moved * vent.kelvin) / rate
        left = math.exp(-rate * seconds / part.capacity_j_k)
        wet_rate = self.infiltration + flow
        end_ratio = (self.infiltration * out.ratio + flow * vent.ratio) / wet_rate
        wet_left = math.exp(-wet_rate * seconds / part.air_mass_kg)
        return Air(
            end_k + (self.start.kelvin - end_k) * left, end_ratio + (self.start.ratio - end_ratio) * wet_left
        )

    def drawn(self, cabin: Air) -> Air:
        """Air into the blower."""
        if not self.recirculates:
            return self.fresh
        share = self.part.recirculated_share
        return Air(
            share * cabin.kelvin + (1.0 - share) * self.fresh.kelvin,
            share * cabin.ratio + (1.0 - share) * self.fresh.ratio,
        )


def vents(
    part: Cabin, effects: Effects, coil_k: float, intake_k: float, flow: float, fill: float, engine_on: bool
) -> tuple[float, float]:
    """(left, right) vent temperature in K from the mean air off the coil; `fill` boils of it."""
    capacity = flow * AIR_CP
    ducted_k = coil_k + part.duct_gain_k + part.duct_gain_w_k / capacity * max(intake_k - coil_k, 0.0)
    spread = 0.5 * _STARVED_SPREAD * max(0.8 - fill, 0.0) * max(intake_k - coil_k, 0.0)
    heater_k = part.heater_k if engine_on else ducted_k
    sides = []
    for sign, leak in ((0.5, effects.blend_leak_left), (-0.5, effects.blend_leak_right)):
        passed = min(part.blend_leak + leak, 1.0) * _HEATER_EFFECTIVENESS
        own_k = ducted_k + sign * part.split_k + 2.0 * sign * spread
        sides.append(own_k + passed * (heater_k - own_k))
    return sides[0], sides[1]
