"""Settling by stroke: the slow way, for circuits that have more than one flow at a surface temperature.

`Settling` asks what stroke a surface temperature needs. Where a device that cannot close, a dead fan or a
very
hot and wet day brings the condenser near running away, that question has two answers or none, although each
stroke has one state. Here the stroke is given, and four rising functions are solved one inside the other:
level
by charge, surface temperature by the metering device, flow by the stroke, condensing temperature by heat. A
pump that leaks much can be dry or flooded at one stroke and surface; then this way gives up too, and says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from engine.vehicle.circuit import LEAST_FLOW, Circuit
from engine.vehicle.controller import Limits
from engine.vehicle.roots import rising_root
from engine.vehicle.settling import LOWEST_SURFACE_K, MINIMUM

_LARGEST_FLOW = 0.4  # kg/s; several times what the largest pump here moves
_TOLERANCE = 5e-5
_MOST_EVALUATIONS = 5000  # of the circuit; a sure case needs 500 to 2000


class _NoSingleStateError(Exception):
    """The search goes to and fro between two states (dry and flooded, or running away)."""


class ByStroke:
    """A circuit under limits, solved stroke by stroke."""

    def __init__(self, circuit: Circuit, limits: Limits, beyond: Callable[[], dict[str, float]]) -> None:
        """`beyond` tells how far past each limit the circuit is in its last state."""
        self.circuit, self.limits, self.beyond = circuit, limits, beyond
        self.stroke = limits.stroke_high
        self.last_evaluation = 0

    def solve(self) -> str | None:
        """Leaves the circuit settled; returns the limit that holds it, None if there is no single state."""
        self.last_evaluation = self.circuit.evaluations + _MOST_EVALUATIONS
        try:
            active = self._solve()
        except _NoSingleStateError:
            return None
        return active if self.circuit.balanced else None

    def _solve(self) -> str:
        low, high = math.log(self.limits.stroke_low), math.log(self.limits.stroke_high)
        only_one = high - low < 1e-9
        if self._furthest(high) <= 0.0 or only_one:
            return MINIMUM if only_one else "stroke"
        if self._furthest(low) >= 0.0:
            return MINIMUM
        rising_root(self._furthest, 0.5 * (low + high), low, high, 1.0, 4 * _TOLERANCE, 1e-6)
        passed = self._passed()
        return max(passed, key=passed.__getitem__)

    def _furthest(self, ln_stroke: float) -> float:
        """The limit furthest passed (but the stroke's own ends) at a stroke."""
        self.settle(math.exp(ln_stroke))
        return max(self._passed().values(), default=-1.0)

    def _passed(self) -> dict[str, float]:
        return {name: value for name, value in self.beyond().items() if name not in (MINIMUM, "stroke")}

    def settle(self, stroke: float) -> None:
        """The one state at a stroke."""
        self.stroke = stroke
        self.circuit.find_level(self._surplus_at)

    def _surplus_at(self, level: float) -> float:
        circuit = self.circuit
        circuit.set_level(level)
        top = circuit.coil.air_k - 0.02
        guess = circuit.coil.surface_k if circuit.coil.surface_k > LOWEST_SURFACE_K else top - 8.0
        rising_root(self._too_warm, guess, LOWEST_SURFACE_K, top, 0.1, _TOLERANCE, 1e-7)
        return circuit.surplus_kg(level)

    def _too_warm(self, surface_k: float) -> float:
        """Flow of the pump over what the metering device takes, less one."""
        circuit = self.circuit
        circuit.cool_to(surface_k)
        guess = circuit.flow
        rising_root(self._too_much, guess, LEAST_FLOW, _LARGEST_FLOW, 1.0 / guess, _TOLERANCE, 1e-11)
        return math.log(circuit.flow / circuit.metered_flow)

    def _too_much(self, flow: float) -> float:
        """Stroke that `flow` would need over the stroke there is, less one."""
        circuit = self.circuit
        if circuit.evaluations > self.last_evaluation:
            raise _NoSingleStateError
        circuit.given_flow = flow
        circuit.condense()
        return circuit.stroke_needed / self.stroke - 1.0
