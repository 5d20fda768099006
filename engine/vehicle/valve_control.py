"""What a solenoid current asks of the stroke: the characteristics of the three control valves, and back.

Straight lines between the two ends in `parts.machine.ControlValve` (no curve is published, references.md 10).
Asked for more, a suction valve lowers the suction pressure it holds, a difference valve raises the pressure
difference, a flow valve the flow. An internal valve has no current: its suction pressure falls a little with
the discharge pressure.
"""

from __future__ import annotations

from engine.vehicle.circuit import Circuit
from engine.vehicle.parts.machine import ControlValve

_INTERNAL_REFERENCE_PA = 1.0e6


def share_of(valve: ControlValve, current_a: float) -> float:
    """Command share 0..1 for a current; below the least current 0."""
    span = valve.current_max_a - valve.current_min_a
    return min(max((current_a - valve.current_min_a) / span, 0.0), 1.0)


def current_for(valve: ControlValve, share: float) -> float:
    """Current in A for a command share 0..1."""
    return valve.current_min_a + share * (valve.current_max_a - valve.current_min_a)


def share_needed(valve: ControlValve, circuit: Circuit) -> float:
    """Command share at which the valve holds the circuit just where it is; may lie outside 0..1."""
    if valve.kind == "suction":
        held = circuit.suction_pa * circuit.factor
        return (valve.suction_at_min_pa - held) / (valve.suction_at_min_pa - valve.suction_at_max_pa)
    if valve.kind == "difference":
        held = circuit.discharge_pa - circuit.suction_pa
        span = valve.difference_at_max_pa - valve.difference_at_min_pa
        return (held - valve.difference_at_min_pa) / span
    return (circuit.flow - valve.flow_at_min_kg_s) / (valve.flow_at_max_kg_s - valve.flow_at_min_kg_s)


def internal_excess(valve: ControlValve, circuit: Circuit) -> float:
    """By how much an internal valve's suction pressure is above the circuit's, over 50 kPa; > 0 strokes
    down."""
    above = circuit.discharge_pa - _INTERNAL_REFERENCE_PA
    held = valve.internal_suction_pa - valve.internal_per_discharge * above
    return (held - circuit.suction_pa) / 50e3
