"""What too much or too little oil does: it insulates, takes room, drags, and fills cylinders.

Directions: oil lowers boiling and condensing heat transfer, displaces charge, and refrigerant that boils out
of it in the cylinders takes the place of vapour, so that the pump draws less and the low side stands a little
higher (textbook knowledge, from memory; no figures in shared/references.md). The sizes are our assumption,
per share of oil beyond the stated amount.
"""

from __future__ import annotations

from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import Effects

_BOILING, _CONDENSING, _PUMPING, _DRAG_RICH, _DRAG_LEAN = 0.4, 0.25, 0.17, 0.15, 2.0
_DENSITY = 980.0  # kg/m3 of oil
_MOST_TAKEN = 0.5  # of the volume of condenser, receiver and evaporator


def _excess(effects: Effects) -> float:
    return max(effects.oil_factor - 1.0, 0.0)


def boiling_factor(effects: Effects) -> float:
    """On the evaporator's refrigerant side."""
    return 1.0 / (1.0 + _BOILING * _excess(effects))


def condensing_factor(effects: Effects) -> float:
    """On the condenser's conductance."""
    return 1.0 / (1.0 + _CONDENSING * _excess(effects))


def pumping_factor(effects: Effects) -> float:
    """On what a stroke draws in."""
    return 1.0 / (1.0 + _PUMPING * _excess(effects))


def friction_factor(effects: Effects) -> float:
    """On the pump's friction: more to churn, or too little to carry."""
    return 1.0 + _DRAG_RICH * _excess(effects) + _DRAG_LEAN * max(1.0 - effects.oil_factor, 0.0)


def taken_share(vehicle: Vehicle, effects: Effects) -> float:
    """Share of the volume of condenser, receiver and evaporator that oil beyond the stated amount takes."""
    volume = vehicle.condenser.volume_m3 + vehicle.condenser.receiver_m3 + vehicle.evaporator.volume_m3
    return min(vehicle.charge.oil_kg * _excess(effects) / _DENSITY / volume, _MOST_TAKEN)
