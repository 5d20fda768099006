"""Readings of the job after a repair: what the sheet of that repair says of vacuum and grams.

The car is as it is now; what its sheet says follows from what is wrong with it. The chances are assumed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from engine.vehicle.bench import Bench, Measured, Told

__all__ = ["JOB_REPAIR"]

Rule = Callable[[Bench], Told]

_OPENED = 0.67  # repairs that open the circuit
_LEAK_IN_VACUUM = 0.5  # leaks that show in vacuum: some open only under pressure
_LEFT_OUT = 0.6  # air inside because nobody evacuated, not because too briefly
_BOILS = 0.5  # water that boils out while the gauge is watched
_LOST_SINCE = 0.5  # low charges that were right when they were weighed in
_DRIFTS = 0.02  # a warm hose, a gauge that drifts: a tight circuit whose vacuum rises a little


def _opened(bench: Bench) -> bool:
    return bench.happens("opened", _OPENED)


def _circuit_opened(bench: Bench) -> Told:
    return "yes" if _opened(bench) else "no"


def _vacuum(bench: Bench) -> Told:
    if not bench.shop.certified or not _opened(bench):
        return None
    if bench.has("air-in-system"):
        return "not-done" if bench.happens("vacuum:left out", _LEFT_OUT) else "held"
    leaking = bench.has("undercharge") or bench.has("system-empty")
    if leaking and bench.happens("vacuum:leak", _LEAK_IN_VACUUM):
        return "rose"
    wet = bench.has("moisture-freezing") and bench.happens("vacuum:wet", _BOILS)
    return "levelled" if wet or bench.happens("vacuum:drifts", _DRIFTS) else "held"


def _weighed_in(bench: Bench) -> Told:
    """What is in the car now, unless it was lost since."""
    if not bench.shop.certified or not _opened(bench):
        return None
    label = bench.vehicle.charge.label_kg
    leaked = bench.has("undercharge") and bench.happens("weighed:lost", _LOST_SINCE)
    was_right = leaked or bench.has("system-empty")
    return Measured("scale", label if was_right else label * bench.effects.charge_factor)


JOB_REPAIR: Mapping[str, Rule] = MappingProxyType(
    {"circuit_opened": _circuit_opened, "vacuum_hold": _vacuum, "weighed_in": _weighed_in}
)
