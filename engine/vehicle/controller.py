"""The control unit: whether it asks for cooling, and what limits it holds while it does."""

from __future__ import annotations

from dataclasses import dataclass

from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects
from engine.vehicle.parts.control import Controller
from engine.vehicle.situation import Situation

REASONS = ("request", "ambient", "pressure", "coolant", "throttle", "voltage", "low-charge-code")
"""Words for `Effects.command_withheld`."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What may act on the stroke, as the physics sees it. None = does not act."""

    stroke_low: float
    stroke_high: float
    target_k: float | None = None
    """True air off the coil at which the sensor shows the target."""
    share_high: float | None = None
    """Largest command share the solenoid can make; the valve holds the stroke there."""
    internal: bool = False
    back_off_pa: float | None = None
    """True high side (gauge) at which the sensor shows the back-off pressure."""


def target(part: Controller, effects: Effects, ambient_k: float) -> float:
    """Evaporator air the control wants (what its sensor is to show), from the ambient its sensor shows."""
    seen = ambient_k + effects.ambient_sensor_k
    span = part.hot_ambient_k - part.mild_ambient_k
    share = min(max((seen - part.mild_ambient_k) / span, 0.0), 1.0)
    return part.target_mild_k + share * (part.target_hot_k - part.target_mild_k)


def refusal(vehicle: Vehicle, effects: Effects, situation: Situation, static_high_pa: float) -> str:
    """Why no cooling is asked for before anything turns; empty = it is asked for.

    `static_high_pa`: high side at rest, Pa gauge. A command held by scan tool passes over everything but the
    pressure limits and the switch.
    """
    part = vehicle.controller
    if not situation.ac_on:
        return "off"
    held = situation.command is not None
    if not held and situation.ambient_k + effects.ambient_sensor_k < part.lock_out_ambient_k:
        return "ambient"
    if static_high_pa + effects.pressure_sensor_pa < part.cut_out_low_pa:
        return "pressure-low"
    return "" if held else effects.command_withheld


def running_limits(
    vehicle: Vehicle, effects: Effects, situation: Situation, share_high: float, asked: bool
) -> Limits:
    """Limits while the shaft turns; `asked` False leaves a clutchless pump at its smallest stroke."""
    part, control = vehicle.controller, vehicle.compressor.control
    high = min(1.0, effects.stroke_high)
    low = min(max(vehicle.compressor.smallest_stroke, effects.stroke_low), max(high, 0.01))
    high = max(high, low)
    if control == "fixed":
        return Limits(1.0, 1.0)
    if control == "internal":
        return Limits(low, high, internal=True)
    if effects.driver_stuck_on and share_high > 0.0:
        return Limits(low, high, share_high=1.0)
    if not asked or share_high <= 0.0 or situation.command == "minimum":
        return Limits(low, low)
    back_off = part.back_off_pa - effects.pressure_sensor_pa
    if situation.command == "maximum":
        return Limits(low, high, None, share_high, False, back_off)
    return Limits(low, high, wanted_air(vehicle, effects, situation), share_high, False, back_off)


def wanted_air(vehicle: Vehicle, effects: Effects, situation: Situation) -> float:
    """True air off the coil in K at which the evaporator sensor shows what the control wants."""
    return target(vehicle.controller, effects, situation.ambient_k) - effects.evaporator_sensor_k
