"""Results made by hand."""

from __future__ import annotations

from typing import Any

from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.cost import Cost
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import Told
from engine.vehicle.trial.traffic import Traffic

COST = Cost(2, 4, 3.0)


def said(finding: str, *ranked: tuple[str, float], also: str | None = None, proved: bool = False) -> Told:
    return Told(finding, also, proved, ranked)


def result(index: int, faults: tuple[Fault, ...], told: Told, **more: Any) -> Result:
    traffic = more.pop("traffic", Traffic())
    return Result(index, faults, {}, told, more.pop("cost", COST), traffic, frozenset(), **more)


WORN, SLIGHTLY_WORN = Fault("worn", 0.9), Fault("worn", 0.45)
DIRTY, SNAPPED = Fault("dirty", 0.6), Fault("snapped")
FROZEN = Fault("frozen", 0.7, frozenset({"dirty"}))
