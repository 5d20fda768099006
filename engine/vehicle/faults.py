"""The faults of the main flow in a vehicle: from a finding and a severity to physical effects.

Severity 1 is 60 % of the cooling lost at the loaded reference state, or the fault's physical limit where it
cannot cost so much there (`fault_shapes`). `no-fault` and `normal-part-stroke` are a healthy vehicle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from random import Random
from types import MappingProxyType

from engine.vehicle.design import Vehicle
from engine.vehicle.fault_effects import NONE, Effects, combined
from engine.vehicle.fault_shapes import GRADED, SWITCHED, WAYS, Graded
from engine.vehicle.finer import FINER, fault_of
from engine.vehicle.labelling import LOADED_REFERENCE
from engine.vehicle.loop import settle
from engine.vehicle.state import State

__all__ = ["FAULTS", "FULL_LOSS", "NAMED", "REFERENCE_LOAD", "Injury", "injure", "together", "total"]

FULL_LOSS = 0.60
"""Share of the cooling lost at severity 1 (issue 3, section 1)."""

REFERENCE_LOAD = LOADED_REFERENCE
"""Where severity is told."""

# A limit that costs less than this is not told by cooling: severity is then the share of the limit.
_LEAST_LOSS = 0.10
_TOLERANCE = 0.01
_PASSES = 12

FAULTS: Mapping[str, bool] = MappingProxyType(dict.fromkeys(GRADED, True) | dict.fromkeys(SWITCHED, False))
"""Every fault by its finding, and whether it has a severity."""

NAMED: Mapping[str, bool] = MappingProxyType(
    {**FAULTS, **{name: FAULTS[one.fault] for name, one in FINER.items()}}
)
"""The same with the finer findings after them."""

_NEVER_TOGETHER = (
    frozenset({"undercharge", "overcharge", "system-empty"}),
    frozenset({"stroke-valve-stuck-low", "stroke-valve-stuck-high"}),
    frozenset({"solenoid-open", "solenoid-shorted", "solenoid-circuit"}),
    frozenset({"drive-broken", "clutch-circuit", "drive-slips", "compressor-damaged"}),
    frozenset({"expansion-valve-restricted", "expansion-valve-stuck-open", "moisture-freezing"}),
    frozenset({"evaporator-icing", "stroke-valve-stuck-high", "sensor-misreads", "evaporator-airflow"}),
)
"""Of each of these one vehicle has at most one: they contradict or contain each other. Sensor, stroke valve
and
air flow exclude each other only beside icing."""


@dataclass(frozen=True, slots=True)
class Injury:
    """A fault as it came to be. `way` is a word of `fault_shapes.WAYS`, or empty; `causes` are findings that
    name what brought it about."""

    finding: str
    severity: float | None
    way: str
    effects: Effects
    causes: frozenset[str] = frozenset()


def injure(vehicle: Vehicle, finding: str, severity: float | None, chance: Random) -> Injury:
    """The fault in this vehicle; `chance` decides its way. Severity 0..1, ignored by faults that have none.

    A finer finding (`engine.vehicle.finer`) gives the fault it means, in one of its ways. Raises KeyError for
    a finding that is no fault, ValueError for a missing or impossible severity.
    """
    finding, ways = fault_of(finding), _ways(finding)
    way = chance.choice(ways) if ways else ""
    if finding in SWITCHED:
        return Injury(finding, None, way, SWITCHED[finding](way, chance))
    if finding not in GRADED:
        raise KeyError(f"'{finding}' is no fault; faults are {', '.join(sorted(FAULTS))}.")
    if severity is None or not 0.0 <= severity <= 1.0:
        raise ValueError(f"The severity of {finding} is a number from 0 to 1, not {severity}.")
    effects = GRADED[finding].build(vehicle, _size(vehicle, finding, way, severity), way)
    causes = frozenset({effects.icing_cause}) if effects.icing_cause else frozenset()
    return Injury(finding, severity, way, effects, causes)


def _ways(finding: str) -> tuple[str, ...]:
    """The ways that a finding leaves open; those of a finer one keep the weights of its fault."""
    if finding not in FINER:
        return WAYS.get(finding, ())
    finer = FINER[finding]
    return tuple(way for way in WAYS.get(finer.fault, ()) if way in finer.ways or not finer.ways)


def total(injuries: Iterable[Injury]) -> Effects:
    """All of them at once."""
    effects = NONE
    for injury in injuries:
        effects = combined(effects, injury.effects)
    return effects


def together(one: str, other: str) -> bool:
    """Whether one vehicle can have both faults at once."""
    one, other = fault_of(one), fault_of(other)
    if one == other:
        return False
    icing = "evaporator-icing" in (one, other)
    groups = _NEVER_TOGETHER if icing else _NEVER_TOGETHER[:-1]
    return not any({one, other} <= group for group in groups)


def _judged(state: State, how: str) -> float:
    """What is counted as cooling, W or (at the vents) W by temperature alone."""
    if how == "coil":
        return state.cooling_w
    return state.evaporator_air_kg_s * max(state.intake_temperature - state.vent_temperature, 0.0)


@lru_cache(maxsize=64)
def _healthy(vehicle: Vehicle) -> State:
    return settle(vehicle, NONE, REFERENCE_LOAD)


def _loss(vehicle: Vehicle, shape: Graded, size: float, way: str) -> float:
    """Share of the cooling that the fault costs at the loaded reference state."""
    sound = _judged(_healthy(vehicle), shape.judged)
    left = _judged(settle(vehicle, shape.build(vehicle, size, way), REFERENCE_LOAD), shape.judged)
    return 1.0 - left / sound


@lru_cache(maxsize=256)
def _size(vehicle: Vehicle, finding: str, way: str, severity: float) -> float:
    """The size 0..1 whose loss is `severity` times the loss at severity 1."""
    shape = GRADED[finding]
    if shape.judged == "none" or severity == 0.0:
        return severity
    most = _loss(vehicle, shape, 1.0, way)
    if most < _LEAST_LOSS:
        return severity
    wanted = severity * min(FULL_LOSS, most)
    return _searched(vehicle, shape, way, wanted, most)


def _searched(vehicle: Vehicle, shape: Graded, way: str, wanted: float, most: float) -> float:
    """Halving, moved towards the straight line where that lies well inside."""
    low, high, loss_low, loss_high = 0.0, 1.0, 0.0, most
    size = 1.0
    for turn in range(_PASSES):
        share = (wanted - loss_low) / max(loss_high - loss_low, 1e-9)
        size = low + (high - low) * (0.5 if turn % 3 == 2 else min(max(share, 0.1), 0.9))
        loss = _loss(vehicle, shape, size, way)
        if abs(loss - wanted) < _TOLERANCE:
            return size
        if loss < wanted:
            low, loss_low = size, loss
        else:
            high, loss_high = size, loss
    return size
