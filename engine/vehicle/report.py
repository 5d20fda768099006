"""Writes a settled circuit, or one at rest, down as a `State`."""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.cabin import Air, Intake, vents
from engine.vehicle.circuit import Circuit
from engine.vehicle.condenser import Face
from engine.vehicle.design import Vehicle
from engine.vehicle.electrics import Signal, Wire
from engine.vehicle.fault_effects import Effects
from engine.vehicle.rest import Rest
from engine.vehicle.situation import Situation
from engine.vehicle.state import State


@dataclass(frozen=True, slots=True)
class Scene:
    """What a settling began with."""

    vehicle: Vehicle
    effects: Effects
    situation: Situation
    intake: Intake
    wire: Wire
    face: Face
    air: float
    """Air through the evaporator, kg/s."""

    @property
    def pulley_speed(self) -> float:
        """1/s."""
        return self.situation.engine_speed * self.vehicle.compressor.pulley_ratio

    @property
    def frost_m(self) -> float:
        """All frost on the evaporator."""
        return self.situation.frost_m + self.effects.frost_m


def running(
    scene: Scene,
    circuit: Circuit,
    cabin: Air,
    on: Signal,
    share: float,
    limit: str,
    reason: str,
    stroke: float,
    exact: bool,
) -> State:
    """A turning, pumping compressor. The stroke reported is what the limits allow, not what was solved
    for."""
    effects, s = scene.effects, scene.situation
    coil, vehicle = circuit.coil, scene.vehicle
    air_k, _, latent = circuit.air_off()
    left, right = vents(
        vehicle.cabin, effects, air_k, coil.air_k, coil.air, circuit.fill, s.engine_speed > 0.0
    )
    subcooling_w = (
        circuit.flow * (circuit.liquid_h - circuit.outlet_h) if circuit.outlet_quality == 0.0 else 0.0
    )
    condenser_w = circuit.condensing_w + subcooling_w
    face_k, behind_k = circuit.face.air_temperatures(condenser_w, circuit.fan)
    low, high = circuit.low_gauge, circuit.high_gauge
    before = circuit.throat.quality_before(
        circuit.condensed_pa, circuit.flow, circuit.inlet_h, circuit.evaporating_pa
    )
    liquid_k = circuit.liquid_before_k(before)
    return State(
        running=True,
        reason=reason,
        active_limit=limit,
        exact=exact,
        cycling=False,
        on_share=1.0,
        low_side=low,
        high_side=high,
        average_low_side=low,
        average_high_side=high,
        pressure_sensor=high + effects.pressure_sensor_pa,
        suction_line_temperature=circuit.suction_saturation_k + circuit.suction_superheat,
        discharge_temperature=circuit.discharge_k(),
        condenser_outlet_temperature=circuit.outlet_k,
        liquid_line_temperature=liquid_k,
        evaporator_inlet_temperature=coil.evaporating_k,
        evaporator_outlet_temperature=coil.evaporating_k + circuit.coil_superheat,
        evaporating_k=coil.evaporating_k,
        condensing_k=circuit.condensing_k,
        intake_temperature=coil.air_k,
        intake_ratio=coil.ratio,
        coil_air_temperature=air_k,
        evaporator_sensor=air_k + effects.evaporator_sensor_k,
        vent_left=left,
        vent_right=right,
        condenser_air_temperature=face_k,
        condenser_air_out_temperature=behind_k,
        ambient_sensor=s.ambient_k + effects.ambient_sensor_k,
        cabin_sensor=cabin.kelvin + effects.cabin_sensor_k,
        evaporator_air_kg_s=coil.air,
        condenser_air_kg_s=circuit.face.air(circuit.fan),
        fan_share=circuit.fan,
        fan_turning=_fan_speed(circuit.fan) * effects.condenser_fan,
        command_share=share,
        duty=on.duty,
        current=on.current,
        mean_volts=on.mean_volts,
        supply_volts=on.supply_volts,
        coil_temperature=scene.wire.coil_k,
        coil_resistance=scene.wire.coil_ohm,
        stroke=stroke,
        compressor_speed=circuit.hub_speed,
        pulley_speed=scene.pulley_speed,
        mass_flow=circuit.flow,
        compressor_flow=circuit.pump.delivered(stroke, circuit.hub_speed, circuit.leak),
        cooling_w=circuit.cooling_w,
        latent_w=latent,
        condenser_w=condenser_w,
        shaft_w=circuit.shaft_w,
        gain_w=circuit.flow * (circuit.suction_gained + circuit.liquid_gained),
        loss_w=circuit.shaft_w * circuit.shell_loss,
        stored_w=circuit.stored_w,
        evaporator_superheat=circuit.coil_superheat,
        suction_quality=circuit.suction_quality,
        superheat=circuit.suction_superheat,
        subcooling=circuit.condensing_k - circuit.outlet_k,
        liquid_quality=before,
        opening=circuit.throat.opening(circuit.flow, circuit.most_flow),
        reserve_fill=circuit.contents.reserve_fill(circuit.level, circuit.coil_quality),
        charge_kg=circuit.charge,
        inventory_kg=circuit.inventory,
        air_pressure=circuit.air_pa,
        liquid_present=True,
        frost_m=scene.frost_m,
        evaporator_fill=min(circuit.fill, 1.0),
    )


def _fan_speed(share: float) -> float:
    """Speed of a fan whose low step is half of its high one."""
    return 0.5 + 0.5 * share


def resting(scene: Scene, rest: Rest, cabin: Air, on: Signal, share: float, reason: str) -> State:
    """A circuit that does not pump: both sides equal, air passes unchanged."""
    effects, s, vehicle = scene.effects, scene.situation, scene.vehicle
    drawn = scene.intake.drawn(cabin)
    blown = scene.air > 0.0 and s.engine_speed > 0.0
    air = scene.air if blown else 0.0
    left = right = s.ambient_k
    if blown:
        left, right = vents(vehicle.cabin, effects, drawn.kelvin, drawn.kelvin, air, 1.0, True)
    gauge, kelvin = rest.gauge(s.atmosphere_pa), rest.kelvin
    turns = s.engine_speed > 0.0 and vehicle.clutchless and not _stands(effects)
    return State(
        running=False,
        reason=reason,
        active_limit="rest",
        exact=True,
        cycling=False,
        on_share=0.0,
        low_side=gauge,
        high_side=gauge,
        average_low_side=gauge,
        average_high_side=gauge,
        pressure_sensor=gauge + effects.pressure_sensor_pa,
        suction_line_temperature=kelvin,
        discharge_temperature=kelvin,
        condenser_outlet_temperature=kelvin,
        liquid_line_temperature=kelvin,
        evaporator_inlet_temperature=kelvin,
        evaporator_outlet_temperature=kelvin,
        evaporating_k=kelvin,
        condensing_k=kelvin,
        intake_temperature=drawn.kelvin,
        intake_ratio=drawn.ratio,
        coil_air_temperature=drawn.kelvin,
        evaporator_sensor=(drawn.kelvin if blown else s.ambient_k) + effects.evaporator_sensor_k,
        vent_left=left,
        vent_right=right,
        condenser_air_temperature=s.ambient_k,
        condenser_air_out_temperature=s.ambient_k,
        ambient_sensor=s.ambient_k + effects.ambient_sensor_k,
        cabin_sensor=cabin.kelvin + effects.cabin_sensor_k,
        evaporator_air_kg_s=air,
        condenser_air_kg_s=scene.face.draught,
        fan_share=0.0,
        fan_turning=0.0,
        command_share=share,
        duty=on.duty,
        current=on.current,
        mean_volts=on.mean_volts,
        supply_volts=on.supply_volts,
        coil_temperature=scene.wire.coil_k,
        coil_resistance=scene.wire.coil_ohm,
        stroke=0.0,
        compressor_speed=scene.pulley_speed if turns else 0.0,
        pulley_speed=scene.pulley_speed,
        mass_flow=0.0,
        compressor_flow=0.0,
        cooling_w=0.0,
        latent_w=0.0,
        condenser_w=0.0,
        shaft_w=0.0,
        gain_w=0.0,
        loss_w=0.0,
        stored_w=0.0,
        evaporator_superheat=0.0,
        suction_quality=1.0,
        superheat=0.0,
        subcooling=0.0,
        liquid_quality=0.0 if rest.liquid else 1.0,
        opening=0.0,
        reserve_fill=0.0,
        charge_kg=rest.charge_kg,
        inventory_kg=rest.charge_kg,
        air_pressure=rest.air_pressure,
        liquid_present=rest.liquid,
        frost_m=scene.frost_m,
        evaporator_fill=0.0,
    )


def _stands(effects: Effects) -> bool:
    return effects.drive_broken or effects.shaft_locked
