"""The faults of the flows in a vehicle: from a finding and a severity to physical effects.

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
from engine.vehicle.fault_shapes import GRADED, SWITCHED, WAYS, WAYS_OF, Graded
from engine.vehicle.finer import FINER, fault_of
from engine.vehicle.labelling import LOADED_REFERENCE
from engine.vehicle.loop import settle
from engine.vehicle.state import State

__all__ = ["FAULTS", "FULL_LOSS", "REFERENCE_LOAD", "Injury", "faults_of", "injure", "together", "total"]

FULL_LOSS = 0.60
"""Share of the cooling lost at severity 1 (issue 3, section 1)."""

REFERENCE_LOAD = LOADED_REFERENCE
"""Where severity is told."""

# A limit that costs less than this is not told by cooling: severity is then the share of the limit.
_LEAST_LOSS = 0.10
_TOLERANCE = 0.01
_PASSES = 12

_CYCLED_ONLY = frozenset(
    {"clutch-slips", "cycling-switch-late", "cycling-switch-early", "cut-out-switch-open"}
)
_STROKE = frozenset({"stroke-valve-stuck-low", "stroke-valve-stuck-high"})
_SOLENOID = frozenset({"solenoid-open", "solenoid-shorted", "solenoid-circuit", "sensor-misreads"})
_NOT_IN: Mapping[str, frozenset[str]] = MappingProxyType(
    {"solenoid": _CYCLED_ONLY, "internal": _CYCLED_ONLY | _SOLENOID, "fixed": _STROKE | _SOLENOID}
)
"""What a compressor so controlled cannot have. No sensor acts on one without a solenoid here."""

_ALL = dict.fromkeys(GRADED, True) | dict.fromkeys(SWITCHED, False)


def faults_of(control: str) -> dict[str, bool]:
    """Every fault of a car with such a compressor (solenoid, internal or fixed), and whether it has a
    severity; the finer findings after them."""
    kept = {name: graded for name, graded in _ALL.items() if name not in _NOT_IN[control]}
    return {**kept, **{name: kept[one.fault] for name, one in FINER.items() if one.fault in kept}}


FAULTS: Mapping[str, bool] = MappingProxyType(
    {name: graded for name, graded in faults_of("solenoid").items() if name not in FINER}
)
"""The faults of the main flow's cars by their findings, and whether they have a severity."""

_NEVER_TOGETHER = (
    frozenset({"undercharge", "overcharge", "system-empty"}),
    frozenset({"stroke-valve-stuck-low", "stroke-valve-stuck-high"}),
    frozenset({"solenoid-open", "solenoid-shorted", "solenoid-circuit"}),
    frozenset({"drive-broken", "clutch-circuit", "drive-slips", "clutch-slips", "compressor-damaged"}),
    frozenset({"cycling-switch-late", "cycling-switch-early"}),
    frozenset({"cut-out-switch-open", "command-withheld"}),
    frozenset({"expansion-valve-restricted", "expansion-valve-stuck-open", "moisture-freezing"}),
    frozenset(
        {
            "evaporator-icing",
            "stroke-valve-stuck-high",
            "sensor-misreads",
            "evaporator-airflow",
            "cycling-switch-late",
        }
    ),
)
"""Of each of these one vehicle has at most one: they contradict or contain each other. Sensor, switch, stroke
valve and air flow exclude each other only beside icing."""


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
    finding, ways = fault_of(finding), _ways(finding, vehicle.compressor.control)
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


def _ways(finding: str, control: str) -> tuple[str, ...]:
    """The ways that a finding leaves open; those of a finer one keep the weights of its fault."""
    fault = fault_of(finding)
    ways = WAYS_OF.get(control, {}).get(fault) or WAYS.get(fault, ())
    meant = FINER[finding].ways if finding in FINER else ()
    return tuple(way for way in ways if way in meant or not meant)


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
