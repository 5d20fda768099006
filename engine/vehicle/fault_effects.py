"""The hooks by which faults act: physical degradations of a vehicle. `NONE` is a healthy one.

Nothing here knows findings or severities (that is `engine.vehicle.faults`). Every field states what the model
does with it, so that a combination of two faults is a combination of fields. `combined` says how.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

__all__ = ["NONE", "Effects", "combined"]


@dataclass(frozen=True, slots=True)
class Effects:
    """SI units; factors 1 and additions 0 are healthy."""

    # -- pump and stroke
    leak_area_m2: float = 0.0
    """Extra leak from discharge to suction inside the pump (weak-compressor). 2e-6 takes half at idle."""
    displacement_factor: float = 1.0
    """Share of the cylinders that still pump (compressor-damaged)."""
    friction_factor: float = 1.0
    """Friction of the pump over a sound one (compressor-damaged, oil)."""
    stroke_low: float = 0.0
    """Stroke cannot fall below this: 0.9 = stuck high."""
    stroke_high: float = 1.0
    """Stroke cannot rise above this: 0.05 = stuck low, 0.4 = crankcase bleeds."""
    noisy: bool = False
    metal_in_oil: bool = False
    shaft_locked: bool = False
    """Shaft does not turn; with a belt that still runs the hub stands."""

    # -- drive
    drive_broken: bool = False
    """Hub stands still while the pulley turns."""
    drive_slip: float = 0.0
    """Share of speed lost at 20 N m of shaft torque, growing in proportion to torque."""
    cycling_switch_k: float = 0.0
    """A cycling switch opens and closes so much colder (-) or warmer (+) than it is set to, K of boiling or
    of air off the coil. 14 K colder it hardly ever opens."""
    clutch_gap_wide: bool = False
    """To be seen by feeler; what it does is in clutch_open or drive_slip."""
    clutch_open: bool = False
    """Clutch does not engage (cars with a clutch only; no effect on others)."""

    # -- solenoid, wiring and command
    coil_factor: float = 1.0
    """Resistance over healthy (turn-to-turn short < 1)."""
    coil_open: bool = False
    coil_shorted: bool = False
    coil_to_case: bool = False
    supply_lost: bool = False
    """No supply (or no ground) reaches the solenoid: no current whatever the duty."""
    circuit_ohm: float = 0.0
    """Extra resistance in the solenoid's wiring. Beyond what the driver can make up, current falls."""
    driver_stuck_on: bool = False
    """The driver or wire holds full current on, A/C off as well."""
    command_withheld: str = ""
    """Reason for which the control unit gives no command: request ambient pressure coolant throttle voltage
    low-charge-code; empty = none."""

    # -- sensors (reading minus truth)
    evaporator_sensor_k: float = 0.0
    ambient_sensor_k: float = 0.0
    cabin_sensor_k: float = 0.0
    pressure_sensor_pa: float = 0.0

    # -- contents
    charge_factor: float = 1.0
    """Charge over what the healthy car holds: < 1 undercharge, 0 empty, > 1 overcharge."""
    air_kg: float = 0.0
    """Air (non-condensable) in the circuit; 2 g is little, 20 g much."""
    saturation_factor: float = 1.0
    """Wrong contents: true saturation pressure over that of the labelled refrigerant."""
    oil_factor: float = 1.0
    """Oil over the stated amount (oil-excess > 1)."""
    moisture_ice: float = 0.0
    """Share of the expansion device's opening that ice closes once it has frozen (Situation.ice_in_valve)."""

    # -- condenser and lines
    condenser_airflow: float = 1.0
    """Air through the condenser over healthy: dirt on the face, missing baffles."""
    condenser_fan: float = 1.0
    """Fan over healthy: 0 = stopped, 0.5 = slow."""
    hot_air_share: float = 0.0
    """Extra share of hot air that comes round to the face (missing baffles)."""
    condenser_area: float = 1.0
    """Share of the tubes that still carry refrigerant (condenser-restricted)."""
    condenser_resistance: float = 0.0
    """Extra loss inside the condenser, Pa/(kg/s)2, before its outlet."""
    liquid_resistance: float = 0.0
    """Extra loss in liquid line or drier, Pa/(kg/s)2."""
    liquid_restriction_at: str = ""
    """Where that sits: drier | liquid-line (cold spot there)."""
    suction_resistance: float = 0.0
    """Extra loss in the suction line, Pa/(kg/s)2 at 10 kg/m3."""

    # -- metering
    opening_high: float = 1.0
    """Expansion device cannot open further than this share (restricted)."""
    opening_low: float = 0.0
    """Expansion valve cannot close below this share (stuck open)."""

    # -- air side
    evaporator_airflow: float = 1.0
    """Air through the evaporator over healthy: filter, blower, face."""
    blend_leak_left: float = 0.0
    blend_leak_right: float = 0.0
    """Extra share of the vent's air that has passed the heater core."""
    doors_follow: bool = True
    """Air doors follow the panel; if not, `intake_stuck` may say where."""
    intake_stuck: str = ""
    """recirculation | fresh: the intake door stays there whatever the panel says."""
    frost_m: float = 0.0
    """Frost the fault itself has grown (evaporator-icing), added to Situation.frost_m."""
    icing_cause: str = ""
    """Drawn cause of an icing (a finding id), for the trial; the model acts on the other fields."""


NONE = Effects()

_ADDED = {
    "leak_area_m2", "circuit_ohm", "evaporator_sensor_k", "ambient_sensor_k", "cabin_sensor_k",
    "pressure_sensor_pa", "air_kg", "hot_air_share", "condenser_resistance", "liquid_resistance",
    "suction_resistance", "blend_leak_left", "blend_leak_right", "frost_m", "drive_slip", "cycling_switch_k",
}  # fmt: skip
_LARGER = {"stroke_low", "opening_low", "moisture_ice"}
_SMALLER = {"stroke_high", "opening_high"}


def combined(first: Effects, second: Effects) -> Effects:
    """Both at once: losses add, factors multiply, the tighter limit holds, a word of `first` comes first.

    Where a low limit passes a high one (stuck open and restricted), the high limit wins.
    """
    values: dict[str, Any] = {
        f.name: _both(f.name, getattr(first, f.name), getattr(second, f.name)) for f in fields(Effects)
    }
    values["stroke_low"] = min(values["stroke_low"], values["stroke_high"])
    values["opening_low"] = min(values["opening_low"], values["opening_high"])
    values["drive_slip"] = min(values["drive_slip"], 0.9)
    return replace(NONE, **values)


def _both(name: str, one: Any, other: Any) -> Any:
    if name == "doors_follow":
        return bool(one) and bool(other)
    if isinstance(one, bool | str):
        return one or other
    if name in _ADDED:
        return one + other
    if name in _LARGER:
        return max(one, other)
    if name in _SMALLER:
        return min(one, other)
    return one * other
