"""What charge belongs on a car's label: the one that leaves its receiver or accumulator part full under load.

Volumes differ from car to car, and each label belongs to its own volumes, as makers find it by filling
until the subcooling stays flat. Without any reserve the label is the charge that gives a stated subcooling.
"""

from __future__ import annotations

from dataclasses import replace

from engine.vehicle.charge import Contents
from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import NONE
from engine.vehicle.fluid.table import fluid
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

__all__ = ["LOADED_REFERENCE", "labelled"]

LOADED_REFERENCE = Situation(
    ambient_k=308.15, relative_humidity=0.5, engine_speed=25.0, blower=1.0, intake="fresh", doors_open=True
)
"""The loaded reference state: 35 degC, 50 %, 1500 1/min, blower high, fresh air, doors open."""

_RECEIVER_FILL, _ACCUMULATOR_FILL = 0.55, 0.35  # our assumption: middle of the plateau; room for light load
_SUBCOOLING_K = 8.0  # without a reserve; references.md 2b prints 10 to 12 degF
_GRAM_PER_K = 4e-3  # kg per kelvin, a first guess
_PASSES = 12


def labelled(vehicle: Vehicle) -> Vehicle:
    """The same car, its `charge.label_kg` set by its own volumes, in whole 5 g."""
    label = vehicle.charge.label_kg
    for _ in range(_PASSES):
        vehicle = replace(vehicle, charge=replace(vehicle.charge, label_kg=label, filled=1.0))
        step = _lacking(vehicle, settle(vehicle, NONE, LOADED_REFERENCE))
        label = min(max(label + step, 0.15), 2.0)
        if abs(step) < 1e-3:
            break
    return replace(vehicle, charge=replace(vehicle.charge, label_kg=round(label * 200.0) / 200.0))


def _lacking(vehicle: Vehicle, state: State) -> float:
    """kg to add."""
    contents = Contents(vehicle, NONE)
    if contents.accumulator == 0.0 and contents.receiver == 0.0:
        return (_SUBCOOLING_K - state.subcooling) * _GRAM_PER_K
    accumulates = contents.accumulator > 0.0
    kelvin = state.evaporating_k if accumulates else state.condensing_k
    fill = _ACCUMULATOR_FILL if accumulates else _RECEIVER_FILL
    return (fill - state.reserve_fill) * contents.reserve_kg(fluid(vehicle.refrigerant), kelvin)
