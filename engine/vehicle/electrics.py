"""The stroke solenoid's circuit: what current the drive can make, and what a meter finds on the wire.

Copper by temperature as in `engine.physics.solenoid`. The drive regulates current by its duty as far as
supply and resistance let it; a duty-driven unit has a largest duty instead, and its current follows the
copper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.physics.solenoid import copper_factor
from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects
from engine.vehicle.situation import Situation
from engine.vehicle.valve_control import current_for, share_of

_WARM_COIL_K = 333.15  # at which a duty-driven unit's largest duty gives the largest current; our assumption


@dataclass(frozen=True, slots=True)
class Wire:
    """The solenoid's circuit in one situation. ohm, V, K."""

    coil_k: float
    coil_ohm: float
    circuit_ohm: float
    supply_v: float
    dead: bool
    """No current can flow."""
    undriven: bool
    """The drive has shut itself off (short)."""


@dataclass(frozen=True, slots=True)
class Signal:
    """What is on the wire: duty 0..1, A, mean V across the coil, V of supply at the connector."""

    duty: float
    current: float
    mean_volts: float
    supply_volts: float


def wire(vehicle: Vehicle, effects: Effects, situation: Situation, coil_k: float) -> Wire:
    """The circuit with its faults."""
    part = vehicle.electrics
    ohm = part.coil_ohm_20 * copper_factor(coil_k) * effects.coil_factor
    if effects.coil_shorted or (effects.coil_to_case and not part.two_wire):
        ohm = 0.05  # one wire returns through the case: what touches it on the way in shorts the coil
    if effects.coil_open:
        ohm = math.inf
    shut_off = effects.coil_shorted or effects.coil_to_case
    return Wire(
        coil_k=coil_k,
        coil_ohm=ohm,
        circuit_ohm=part.wiring_ohm + effects.circuit_ohm,
        supply_v=part.supply_v if situation.engine_speed > 0.0 else part.battery_v,
        dead=effects.coil_open or effects.supply_lost or situation.unplugged or shut_off,
        undriven=shut_off,
    )


def largest_share(vehicle: Vehicle, effects: Effects, on: Wire) -> float:
    """Command share the valve feels at the drive's strongest; shorted turns pull less per ampere."""
    if on.dead:
        return 0.0
    part, valve = vehicle.electrics, vehicle.valve
    total = on.coil_ohm + on.circuit_ohm
    available = _largest_duty(vehicle) * on.supply_v / total
    if part.regulation == "current":
        available = min(available, valve.current_max_a)
    return share_of(valve, available * min(effects.coil_factor, 1.0))


def signal(vehicle: Vehicle, effects: Effects, on: Wire, share: float, asked: bool) -> Signal:
    """The wire at a share the valve is to feel; `asked` False means no command at all."""
    supply = 0.0 if effects.supply_lost else on.supply_v
    if on.undriven:
        return Signal(0.0, 0.0, 0.0, supply)
    if effects.driver_stuck_on:
        current = 0.0 if on.dead else on.supply_v / (on.coil_ohm + on.circuit_ohm)
        return Signal(1.0, current, current * on.coil_ohm if current else 0.0, supply)
    if not asked:
        return Signal(0.0, 0.0, 0.0, supply)
    largest = _largest_duty(vehicle)
    if on.dead:  # the control keeps asking; what it asks is not answered
        wanted = current_for(vehicle.valve, share) * vehicle.electrics.coil_ohm_20 * copper_factor(on.coil_k)
        return Signal(min(wanted / on.supply_v, largest), 0.0, 0.0, supply)
    total = on.coil_ohm + on.circuit_ohm
    wanted = current_for(vehicle.valve, share) / min(effects.coil_factor, 1.0)
    duty = min(wanted * total / on.supply_v, largest)
    current = duty * on.supply_v / total
    return Signal(duty, current, current * on.coil_ohm, supply - current * on.circuit_ohm)


def _largest_duty(vehicle: Vehicle) -> float:
    part = vehicle.electrics
    if part.regulation == "current":
        return part.duty_max
    warm = part.coil_ohm_20 * copper_factor(_WARM_COIL_K) + part.wiring_ohm
    return min(vehicle.valve.current_max_a * warm / part.supply_v, part.duty_max)
