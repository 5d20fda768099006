"""Between two settled states: first-order approach, and the decay of the sides after A/C off.

Rates are our assumption, chosen for what a technician sees: pressures answer within half a minute, the
control and the air need minutes (common practice: load lowered, the command falls within 1 to 3 minutes;
after A/C off a valve equalises in 5 to 10 minutes, an orifice tube in 1 to 2). Whoever reads early reads
something in between.
"""

from __future__ import annotations

import math
from dataclasses import replace

from engine.vehicle.design import Vehicle
from engine.vehicle.state import State

__all__ = ["approach", "decay"]

PRESSURES_S, CONTROL_S, AIR_S, COIL_S = 20.0, 40.0, 45.0, 400.0
"""Time constants in s: gauges and flow, command and stroke, air and line temperatures, the solenoid's
copper."""

_RATES = {
    PRESSURES_S: (
        "low_side", "high_side", "average_low_side", "average_high_side", "low_side_at_close",
        "pressure_sensor", "evaporating_k",
        "condensing_k", "mass_flow", "compressor_flow", "cooling_w", "latent_w", "condenser_w", "shaft_w",
        "gain_w", "loss_w", "stored_w", "condenser_air_kg_s", "fan_share", "fan_turning",
        "evaporator_air_kg_s",
    ),
    CONTROL_S: (
        "command_share", "duty", "current", "mean_volts", "supply_volts", "stroke", "on_share",
        "on_seconds", "off_seconds",
    ),
    AIR_S: (
        "suction_line_temperature", "discharge_temperature", "condenser_outlet_temperature",
        "liquid_line_temperature", "evaporator_inlet_temperature", "evaporator_outlet_temperature",
        "intake_temperature", "intake_ratio", "coil_air_temperature", "evaporator_sensor", "vent_left",
        "vent_right", "condenser_air_temperature", "condenser_air_out_temperature", "ambient_sensor",
        "cabin_sensor", "evaporator_superheat", "suction_quality", "superheat", "subcooling",
        "liquid_quality", "opening", "evaporator_fill", "reserve_fill",
    ),
    COIL_S: ("coil_temperature", "coil_resistance"),
}  # fmt: skip

_VALVE_S, _ORIFICE_S = 130.0, 30.0  # of the sides after A/C off
_FAST_SHARE, _FAST_S = 0.3, 10.0  # the high side's first fall, while the condenser is still cool


def approach(before: State, after: State, seconds: float) -> State:
    """The state `seconds` after the settings went from those of `before` to those of `after`.

    Words, speeds, charge and what else is set at once are those of `after`. Balances hold only in settled
    states, not in between. Raises ValueError for a negative time.
    """
    if seconds < 0.0:
        raise ValueError(f"{seconds:g} s is before the change of settings; give a time from 0 up.")
    changes: dict[str, float] = {}
    for constant, names in _RATES.items():
        left = math.exp(-seconds / constant)
        for name in names:
            changes[name] = _between(getattr(before, name), getattr(after, name), left)
    return replace(after, **changes)  # type: ignore[arg-type]


def decay(vehicle: Vehicle, running: State, off: State, seconds: float) -> State:
    """The state `seconds` after A/C off: `running` before, `off` the settled state with A/C off.

    The command is gone at once. The sides go towards `off`, the high side first fast, then as the metering
    device lets it; where the pump is stuck at stroke, `off` itself has its sides apart. Raises ValueError
    for a negative time.
    """
    state = approach(running, off, seconds)
    left = math.exp(-seconds / (_ORIFICE_S if vehicle.orifice else _VALVE_S))
    high_left = (1.0 - _FAST_SHARE) * left + _FAST_SHARE * math.exp(-seconds / _FAST_S)
    low = _between(running.low_side, off.low_side, left)
    high = max(_between(running.high_side, off.high_side, high_left), low)
    return replace(
        state,
        low_side=low,
        average_low_side=low,
        high_side=high,
        average_high_side=high,
        pressure_sensor=high + off.pressure_sensor - off.high_side,
        command_share=off.command_share,
        duty=off.duty,
        current=off.current,
        mean_volts=off.mean_volts,
        supply_volts=off.supply_volts,
    )


def _between(first: float, last: float, left: float) -> float:
    """`last` with `left` of the difference still to go; infinite resistances switch at once."""
    if math.isinf(first) or math.isinf(last):
        return last
    return last + (first - last) * left
