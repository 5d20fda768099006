"""The circuit at a given evaporator surface temperature: flow, condensing temperature and liquid level.

One evaluation `at(surface)` finds the liquid level at which the parts hold the charge, and for each level the
condensing temperature at which the condenser gives off what arrives. What comes out is the stroke that this
surface temperature needs; `engine.vehicle.settling` looks for the surface temperature the control settles at.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from engine.vehicle.charge import Contents
from engine.vehicle.compressor import Pump
from engine.vehicle.condenser import (
    FLOOD_LIMIT,
    LIQUID_CP,
    LOWEST_LEVEL,
    RECEIVER_SPAN,
    Face,
    condensing_flow,
    fan_share,
    liquid_exit,
    liquid_share,
)
from engine.vehicle.design import Vehicle
from engine.vehicle.evaporator import Coil, vapour_cp
from engine.vehicle.fault_effects import Effects
from engine.vehicle.fluid.table import fluid
from engine.vehicle.metering import Throat
from engine.vehicle.roots import rising_root
from engine.vehicle.situation import Situation

__all__ = ["Circuit"]

_AIR_GAS = 287.04  # J/(kg K), ASHRAE Fundamentals ch. 1
LEAST_FLOW = 1e-5  # kg/s; below, nothing flows worth the name
_LEAST_SUCTION_SHARE = 0.1  # of the evaporating pressure, behind a restriction; only met while searching
_NO_FLOW = 2e-4  # kg/s (30 W of cooling); a pump that nets less only keeps the sides together
HEAT_TOLERANCE = 1e-4  # of the condenser's heat
CHARGE_TOLERANCE_KG = 2e-4
_WETNESS_KG = 1.0  # what wetness is worth among kilograms; a matter of scale
_WETNESS_FINER = 0.1  # of the tolerance, where wetness stands for the charge
_LEAST_LIFT_K = 0.02  # condensing over the air that takes the heat


class Circuit:
    """One car under given effects in one situation, its compressor turning. Attributes are the last state.

    Temperatures K, pressures Pa absolute, enthalpies J/kg, flows kg/s.
    """

    def __init__(
        self, vehicle: Vehicle, effects: Effects, situation: Situation, coil: Coil, face: Face
    ) -> None:
        lines = vehicle.lines
        self.fluid = fluid(vehicle.refrigerant)
        self.coil, self.face = coil, face
        self.pump = Pump(vehicle.compressor, effects, situation.engine_speed, self.fluid)
        ice = effects.moisture_ice * situation.ice_in_valve
        self.throat = Throat(vehicle.metering, lines, effects, ice, situation.valve_head, self.fluid)
        self.contents, self.lines = Contents(vehicle, effects), lines
        self.charge = vehicle.charge.label_kg * vehicle.charge.filled * effects.charge_factor
        self.air_kg, self.factor = effects.air_kg, effects.saturation_factor
        self.atmosphere = situation.atmosphere_pa
        self.shell_loss = vehicle.compressor.shell_loss
        self.high_resistance = vehicle.condenser.pressure_loss + effects.condenser_resistance
        self.suction_resistance = (lines.suction_loss + effects.suction_resistance) * 10.0
        self.sensor_error = effects.pressure_sensor_pa
        bay = lines.bay_over_ambient_k if situation.bonnet_open else lines.bay_closed_over_ambient_k
        self.bay_k = situation.ambient_k + bay
        self.usual_level = vehicle.condenser.subcooler_share
        if vehicle.condenser.receiver_m3 > 0.0:
            self.usual_level += 0.5 * RECEIVER_SPAN
        self.given_flow: float | None = None
        self.heat_surplus = 0.0
        self.evaluations = 0
        self.start_afresh()

    def start_afresh(self) -> None:
        """Guesses for a circuit nothing is known of."""
        self.condensing_k = self.face.inlet_k + 15.0
        self.level = self.usual_level
        self.flow = 0.01

    # -- what the control looks at

    @property
    def high_gauge(self) -> float:
        """High side at the discharge port, Pa gauge; wrong contents change the vapour's part of it."""
        return (self.discharge_pa - self.air_pa) * self.factor + self.air_pa - self.atmosphere

    @property
    def low_gauge(self) -> float:
        """Low side near the compressor, Pa gauge."""
        return self.suction_pa * self.factor - self.atmosphere

    # -- is it settled

    @property
    def balanced(self) -> bool:
        """Heat and charge both close (or heat is stored, the high side being at the end of the tables)."""
        heat_closes = abs(self.heat_surplus) <= 2.0 * HEAT_TOLERANCE or self.runs_away
        return heat_closes and abs(self.inventory - self.charge) <= 3.0 * CHARGE_TOLERANCE_KG

    @property
    def runs_away(self) -> bool:
        """The condenser cannot give off what arrives, however hot it gets."""
        return self.heat_surplus < 0.0 and self.condensing_k >= self.fluid.last_k - 1.0 - 1e-4

    @property
    def flows(self) -> bool:
        """The pump moves more than leaks back."""
        return self.flow > _NO_FLOW

    @property
    def stored_w(self) -> float:
        """Heat that warms the high side instead of leaving it; nothing but in a run-away."""
        return -self.heat_surplus * self.condensing_w / (1.0 + self.heat_surplus) if self.runs_away else 0.0

    @property
    def too_little(self) -> bool:
        """Even with nothing but vapour at the condenser's outlet the parts would hold more than there is."""
        return self.level <= LOWEST_LEVEL + 1e-4 and self.inventory - self.charge > CHARGE_TOLERANCE_KG

    # -- the charge

    def at(self, surface_k: float) -> None:
        """Settles everything but the stroke at this surface temperature of the evaporator."""
        self.given_flow = None
        self.cool_to(surface_k)
        self.find_level(self._surplus)

    def cool_to(self, surface_k: float) -> None:
        """Sets the evaporator's surface; nothing else is settled by that."""
        self.coil.at(surface_k)
        self.evaporating_pa = self.fluid.pressure(self.coil.evaporating_k)
        self.vapour_cp = vapour_cp(self.fluid, self.coil.evaporating_k)

    def find_level(self, surplus: Callable[[float], float]) -> None:
        """The liquid level at which `surplus`, a charge in kg that rises with the level, is nothing."""
        self.level = rising_root(
            surplus,
            self.level,
            LOWEST_LEVEL,
            FLOOD_LIMIT + RECEIVER_SPAN,
            slope=1.5,  # kg per level where the receiver fills: the usual place
            tolerance=CHARGE_TOLERANCE_KG * (_WETNESS_FINER if self.contents.accumulator > 0.0 else 1.0),
            width=1e-6,
        )

    def _surplus(self, level: float) -> float:
        self.set_level(level)
        self.condense()
        return self.surplus_kg(level)

    def surplus_kg(self, level: float) -> float:
        """By how much the parts hold more, in the last state with the liquid at `level`, than there is.

        With an accumulator only its sign and its zero mean that. In a part full one the wetness it lets
        through
        tells how full it is: that replaces the charge there, which a thousandth of wetness would change by
        15 g.
        """
        contents, fl = self.contents, self.fluid
        inventory = contents.high_side_kg(
            fl, self.condensing_k, self.outlet_k, level, self.outlet_quality
        ) + contents.low_side_kg(
            fl,
            self.coil.evaporating_k,
            self.suction_rho,
            min(self.fill, 1.0),
            self.inlet_quality,
            self.coil_quality,
        )
        if contents.accumulator <= 0.0:
            self.inventory = inventory
            return inventory - self.charge
        reserve = contents.reserve_kg(fl, self.coil.evaporating_k)
        self.inventory = inventory + reserve * contents.reserve_fill(level, self.coil_quality)
        empty, full = inventory - self.charge, inventory + reserve - self.charge
        wetness = (self.fill - 1.0) * self.boil_j_kg / (max(self.fill, 1.0) * self.latent_h)
        partly = _WETNESS_KG * (wetness + contents.wetness * empty / reserve)
        return min(max(empty, partly), full) if empty < full else empty

    def set_level(self, level: float) -> None:
        """Sets what the liquid level decides: the face left to condense, and the room left for air."""
        part = self.contents.condenser_part
        self.outlet_quality = -level if level < 0.0 else 0.0
        self.liquid_share = liquid_share(part, level) if level > 0.0 else 0.0
        self.air_per_k = self.air_kg * _AIR_GAS / self.contents.gas_m3(level)

    # -- the condenser's balance

    def condense(self) -> None:
        """Finds the condensing temperature at which the condensing part gives off what arrives."""
        lowest = self.face.inlet_k + _LEAST_LIFT_K
        highest = self.fluid.last_k - 1.0
        if self.condensing_k > highest - 5.0:  # a search that ran hot starts again from below
            self.condensing_k = self.face.inlet_k + 15.0
        slope = 1.0 / max(self.condensing_k - self.face.inlet_k, 3.0)
        self.condensing_k = rising_root(
            self.heat_at,
            max(self.condensing_k, lowest),
            lowest,
            highest,
            slope,
            tolerance=HEAT_TOLERANCE,
            width=1e-5,
        )

    def heat_at(self, condensing_k: float) -> float:
        """What the condensing part can give off less what arrives, over what arrives."""
        self.evaluations += 1
        fl, face = self.fluid, self.face
        vapour_pa = fl.pressure(condensing_k)
        self.condensing_k = condensing_k
        self.air_pa = self.air_per_k * condensing_k
        self.condensed_pa = vapour_pa + self.air_pa
        gauge = vapour_pa * self.factor + self.air_pa - self.atmosphere
        self.fan = fan_share(face.part, gauge + self.sensor_error)
        conductance = face.conductance(self.fan)
        if self.air_pa > 0.0:
            conductance *= face.blanket(self.air_pa / self.condensed_pa)
        self._leave_condenser(condensing_k, conductance)
        self._expand_and_boil()
        self._compress()
        lift = condensing_k - face.inlet_k
        self.condensing_w = conductance * (1.0 - self.liquid_share) * lift
        saturated = self.liquid_h if self.outlet_quality == 0.0 else self.outlet_h
        arriving = self.flow * (self.discharge_h - saturated)
        self.heat_surplus = self.condensing_w / arriving - 1.0
        return self.heat_surplus

    def _leave_condenser(self, condensing_k: float, conductance: float) -> None:
        """Outlet of the condenser, then the liquid line: internal heat exchanger, heat from the bay (or to
        it)."""
        fl, lines, air_k = self.fluid, self.lines, self.face.inlet_k
        self.liquid_h = fl.liquid_enthalpy(condensing_k)
        latent = fl.vapour_enthalpy(condensing_k) - self.liquid_h
        if self.outlet_quality > 0.0:
            self.outlet_k = condensing_k
            self.outlet_h = self.liquid_h + self.outlet_quality * latent
        else:
            self.outlet_k = liquid_exit(self.face.part, self.liquid_share, latent, condensing_k, air_k)
            self.outlet_h = fl.liquid_enthalpy(self.outlet_k)
        self.exchanged = 0.0
        if lines.exchanger_effectiveness > 0.0:
            return_k = self.coil.evaporating_k + self.throat.superheat
            self.exchanged = (
                lines.exchanger_effectiveness * self.vapour_cp * max(self.outlet_k - return_k, 0.0)
            )
        flow = condensing_flow(self.liquid_share, conductance, latent, condensing_k - air_k)
        gained = 1.0 - math.exp(-lines.liquid_gain_w_k / (max(flow, LEAST_FLOW) * LIQUID_CP))
        self.liquid_gained = gained * LIQUID_CP * (self.bay_k - self.outlet_k)
        self.inlet_h = self.outlet_h - self.exchanged + self.liquid_gained

    # -- metering device and evaporator

    def _expand_and_boil(self) -> None:
        coil, fl, throat = self.coil, self.fluid, self.throat
        evaporating_k, cp = coil.evaporating_k, self.vapour_cp
        vapour_h = fl.vapour_enthalpy(evaporating_k)
        least, most = throat.limits(
            self.condensed_pa, self.evaporating_pa, self.outlet_k, self.outlet_h, self.outlet_quality
        )
        self.boil_j_kg = boil = max(vapour_h - self.inlet_h, 1e3)
        metered = most
        if throat.valve:
            asked = coil.share_for(throat.superheat, boil, cp) * coil.boil_w / boil
            metered = min(max(asked, least), most)
        self.most_flow, self.metered_flow = most, max(metered, LEAST_FLOW)
        self.flow = flow = self.metered_flow if self.given_flow is None else self.given_flow
        self.fill = fill = flow * boil / coil.boil_w
        self._latent(evaporating_k, vapour_h)
        if fill < 1.0:
            self.coil_superheat = coil.superheat_of(fill, flow, cp)
            self.coil_quality = 1.0
            self.coil_h = vapour_h + fl.gain(evaporating_k, self.coil_superheat)
            return
        self.coil_superheat = 0.0
        self.coil_h = self.inlet_h + coil.boil_w / flow
        self.coil_quality = 1.0 - (vapour_h - self.coil_h) / self.latent_h

    def _latent(self, evaporating_k: float, vapour_h: float) -> None:
        liquid_h = self.fluid.liquid_enthalpy(evaporating_k)
        self.latent_h = vapour_h - liquid_h
        self.inlet_quality = (self.inlet_h - liquid_h) / self.latent_h

    # -- suction line and compressor

    def _compress(self) -> None:
        fl, flow, coil = self.fluid, self.flow, self.coil
        coil_k = coil.evaporating_k + self.coil_superheat
        gained = 1.0 - math.exp(-self.lines.suction_gain_w_k / (flow * self.vapour_cp))
        self.suction_gained = gained * self.vapour_cp * (self.bay_k - coil_k)
        self.suction_h = suction_h = self.coil_h + self.exchanged + self.suction_gained
        rho = fl.density(coil.evaporating_k, self.coil_superheat) / max(self.coil_quality, 0.2)
        loss = self.suction_resistance / rho * flow * flow
        self.suction_pa = suction_pa = max(
            self.evaporating_pa - loss, _LEAST_SUCTION_SHARE * self.evaporating_pa
        )
        self.suction_saturation_k = saturation_k = fl.saturation(suction_pa)
        entropy = self._suction_state(saturation_k, suction_h - fl.vapour_enthalpy(saturation_k))
        self.discharge_pa = discharge_pa = max(
            self.condensed_pa + self.high_resistance * flow * flow, suction_pa
        )
        self.discharge_saturation_k = fl.saturation(discharge_pa)
        ideal = max(fl.ideal_enthalpy(self.discharge_saturation_k, entropy) - suction_h, 0.0)
        pump = self.pump
        self.leak = pump.leak(discharge_pa, suction_pa, fl.vapour_density(self.condensing_k))
        self.stroke_needed, self.shaft_w, self.hub_speed = pump.run(
            flow, self.leak, suction_pa, discharge_pa, self.suction_rho, saturation_k, ideal, self.vapour_cp
        )
        self.discharge_h = suction_h + self.shaft_w * (1.0 - self.shell_loss) / flow

    def _suction_state(self, saturation_k: float, gain: float) -> float:
        """Sets superheat, quality and density at the compressor; gives the entropy."""
        fl = self.fluid
        if gain >= 0.0:
            self.suction_quality = 1.0
            self.suction_superheat = superheat = fl.superheat(saturation_k, gain)
            self.suction_rho = fl.density(saturation_k, superheat)
            return fl.entropy(saturation_k, superheat)
        self.suction_superheat = 0.0
        latent = fl.vapour_enthalpy(saturation_k) - fl.liquid_enthalpy(saturation_k)
        self.suction_quality = quality = max(1.0 + gain / latent, 0.05)
        liquid, vapour = fl.liquid_density(saturation_k), fl.vapour_density(saturation_k)
        self.suction_rho = 1.0 / (quality / vapour + (1.0 - quality) / liquid)
        return fl.entropy(saturation_k, 0.0) + gain / saturation_k

    # -- what came out

    def air_off(self) -> tuple[float, float, float]:
        """(temperature K, humidity ratio, latent W) of the air off the coil."""
        return self.coil.air_off(self.cooling_w, self.fill)

    @property
    def cooling_w(self) -> float:
        """Heat taken up in the evaporator."""
        return self.flow * (self.coil_h - self.inlet_h)

    def discharge_k(self) -> float:
        """Temperature of the gas that leaves the compressor."""
        fl, saturation_k = self.fluid, self.discharge_saturation_k
        gain = self.discharge_h - fl.vapour_enthalpy(saturation_k)
        return saturation_k + max(fl.superheat(saturation_k, gain), 0.0)

    def liquid_before_k(self, quality: float) -> float:
        """Temperature before the metering device, `quality` being the vapour share there."""
        if quality > 0.0:
            before = self.condensed_pa - self.throat.resistance * self.flow * self.flow
            return self.fluid.saturation(max(before, self.evaporating_pa))
        return self.outlet_k + (self.inlet_h - self.outlet_h) / LIQUID_CP
