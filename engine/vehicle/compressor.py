"""The compressor: what stroke a flow needs, what work it takes, how hot it leaves.

Gross flow = stroke x displacement x speed x suction density x volumetric efficiency; a leak from discharge to
suction takes some of it back and warms what is drawn in. Shaft work = gross flow x ideal work over isentropic
efficiency + friction; all of it but the shell's loss leaves with the gas. Speed slopes: ACRC TR-14, 1992
(references.md section 3).
"""

from __future__ import annotations

import math

from engine.vehicle.fault_effects import Effects
from engine.vehicle.fluid.table import Fluid
from engine.vehicle.oil import friction_factor, pumping_factor
from engine.vehicle.parts.machine import Compressor

_EXPANSION_POWER = 0.9  # 1/polytropic exponent of the clearance gas; 1.1, handbook value from memory
_CHOKED = 0.45  # gas through a gap chokes at a drop of 0.45 of its pressure; ideal gas, k about 1.1
_GAP_COEFFICIENT = 0.7  # discharge coefficient of a gap; handbook value from memory
_LEAST_VOLUMETRIC, _LEAST_ISENTROPIC = 0.02, 0.15
_MOST_WARMING = 1.5  # of suction gas by leakage; beyond, a pump has seized
_SLIP_TORQUE = 20.0  # N m, by the definition of Effects.drive_slip


class Pump:
    """A compressor at one pulley speed."""

    __slots__ = (
        "capacity", "clearance", "fluid", "friction", "leak_area", "part", "slip", "speed", "swept_kg",
    )  # fmt: skip

    def __init__(self, part: Compressor, effects: Effects, engine_speed: float, fluid: Fluid) -> None:
        self.part, self.fluid = part, fluid
        self.speed = engine_speed * part.pulley_ratio
        self.slip = effects.drive_slip
        self.leak_area = part.leak_area_m2 + effects.leak_area_m2
        self.capacity = part.displacement_m3 * effects.displacement_factor * pumping_factor(effects)
        self.friction = part.friction_w_s * effects.friction_factor * friction_factor(effects)
        self.clearance = part.clearance
        self.swept_kg = 0.0  # kg per revolution at full stroke, last run

    def leak(self, discharge_pa: float, suction_pa: float, discharge_rho: float) -> float:
        """kg/s that pass back inside."""
        drop = min(discharge_pa - suction_pa, _CHOKED * discharge_pa)
        if drop <= 0.0:
            return 0.0
        return _GAP_COEFFICIENT * self.leak_area * math.sqrt(2.0 * discharge_rho * drop)

    def run(
        self,
        flow: float,
        leak: float,
        suction_pa: float,
        discharge_pa: float,
        suction_rho: float,
        suction_k: float,
        ideal_j_kg: float,
        vapour_cp: float,
    ) -> tuple[float, float, float]:
        """(stroke needed, shaft W, hub speed 1/s) to deliver `flow` kg/s.

        `ideal_j_kg` is the isentropic work from the suction state. A stroke above 1 means: not to be had.
        """
        part, gross = self.part, flow + leak
        speed = self.speed
        ratio = max(discharge_pa / suction_pa, 1.0)
        volumetric = (
            part.volumetric_at_rest - part.volumetric_per_speed * speed
            - self.clearance * (ratio**_EXPANSION_POWER - 1.0)
        )  # fmt: skip
        swept = self.capacity * suction_rho * max(volumetric, _LEAST_VOLUMETRIC)
        stroke = gross / (swept * speed)
        isentropic = part.isentropic - part.isentropic_per_speed * speed
        isentropic -= part.isentropic_per_ratio * max(ratio - 3.0, 0.0)
        short = 1.0 - min(stroke, 1.0)
        isentropic *= 1.0 - part.isentropic_short_stroke * short * short
        work = ideal_j_kg / max(isentropic, _LEAST_ISENTROPIC)
        warming = min(1.0 + work * leak / (flow * vapour_cp * suction_k), _MOST_WARMING)
        stroke *= warming
        self.swept_kg = swept / warming
        friction = self.friction * (0.4 + 0.6 * min(stroke, 1.0))
        shaft = gross * work * warming + friction * speed
        if self.slip > 0.0:
            speed = self._slipping(shaft)
            stroke *= self.speed / speed
        return stroke, shaft, speed

    def delivered(self, stroke: float, hub_speed: float, leak: float) -> float:
        """kg/s at a stroke, in the suction state of the last `run`."""
        return stroke * self.swept_kg * hub_speed - leak

    def _slipping(self, shaft_w: float) -> float:
        """Hub speed of a drive that loses `slip` of it at 20 N m, in proportion to torque."""
        lost = self.slip * shaft_w / (2.0 * math.pi * _SLIP_TORQUE)
        share = 4.0 * lost / self.speed
        if share < 1.0:
            return 0.5 * self.speed * (1.0 + math.sqrt(1.0 - share))
        return 0.5 * self.speed / share
