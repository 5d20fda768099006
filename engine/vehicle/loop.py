"""Settling a vehicle: the one call that gives the true state for given effects and situation."""

from __future__ import annotations

from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import NONE, Effects
from engine.vehicle.situation import Situation, check_envelope
from engine.vehicle.state import State

__all__ = ["settle"]


def settle(vehicle: Vehicle, situation: Situation, effects: Effects = NONE) -> State:
    """The settled state. Raises OutsideEnvelope; a car locked out is a State with a reason."""
    check_envelope(situation)
    raise NotImplementedError
