"""The surface temperature of the evaporator at which the control, the valve and the pump agree.

Colder needs more stroke, so every limit is a falling function of the surface temperature: how far beyond the
limit the circuit would be there. Stroke is taken back as long as any of target, command ceiling, full
stroke or back-off is passed, and never below its smallest: the settled place is the zero of min(max(those),
smallest).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from engine.vehicle.circuit import Circuit
from engine.vehicle.controller import Limits
from engine.vehicle.parts.machine import ControlValve
from engine.vehicle.valve_control import internal_excess, share_needed

LOWEST_SURFACE_K = 230.0
TOLERANCE = 2e-4
_WIDTH_K = 2e-6
_PASSES = 60
_FIRST_STEP_K = 1.5
_LARGEST_STEP_K = 8.0  # straight lines are not trusted further

MINIMUM = "minimum"
_NOT_LIMITS = (MINIMUM, "heat", "charge")


class Settling:
    """A circuit under limits."""

    def __init__(self, circuit: Circuit, limits: Limits, valve: ControlValve) -> None:
        self.circuit, self.limits, self.valve = circuit, limits, valve
        self.settled = False
        self.warm_side_k = 0.0

    def solve(self, guess_k: float) -> str:
        """Leaves the circuit settled; returns the limit that holds it."""
        low, high = LOWEST_SURFACE_K, self.circuit.coil.air_k - 0.02
        x = min(max(guess_k, low), high)
        now = self._beyond(x)
        last_x, last = x, now
        for turn in range(_PASSES):
            active = deciding(now)
            beyond = now[active]
            if abs(beyond) <= TOLERANCE or high - low < _WIDTH_K:
                break
            if beyond > 0.0:
                low = x
            else:
                high = x
            step = x + math.copysign(_FIRST_STEP_K, beyond)
            if turn > 0:
                step = _crossing(last_x, last, x, now)
                step = min(max(step, x - _LARGEST_STEP_K), x + _LARGEST_STEP_K)
            margin = 0.01 * (high - low)
            if not low + margin < step < high - margin or turn % 6 == 5:
                step = self._inside(step, low, high, turn)
            last_x, last, x = x, now, step
            now = self._beyond(x)
        self.warm_side_k = high
        self.settled = abs(now[deciding(now)]) <= 2.0 * TOLERANCE and self.circuit.balanced
        return deciding(now)

    def settle_warm(self) -> str:
        """Where no single state is: the warm side of the jump, heat and flow closed, the stroke left free."""
        self._beyond(self.warm_side_k)
        self.circuit.set_level(self.circuit.level)
        self.circuit.condense()
        return deciding(self.beyond())

    def _inside(self, step: float, low: float, high: float, turn: int) -> float:
        """A step that left the bracket: near the end it left by, or the middle."""
        if turn % 6 == 5 or high - low > 30.0:
            return 0.5 * (low + high)
        return low + (0.05 if step <= low else 0.95) * (high - low)

    def _beyond(self, surface_k: float) -> dict[str, float]:
        self.circuit.at(surface_k)
        return self.beyond()

    def beyond(self) -> dict[str, float]:
        """How far beyond each limit the circuit is in its last state (positive = too cold)."""
        circuit, limits = self.circuit, self.limits
        weight = 1.0 + min(circuit.leak / circuit.flow, 50.0)  # a leaky pump's net flow hangs on its stroke
        stroke = max(circuit.stroke_needed, 1e-9)
        beyond = {
            MINIMUM: math.log(stroke / limits.stroke_low) * weight,
            "stroke": math.log(stroke / limits.stroke_high) * weight,
        }
        if limits.target_k is not None:
            beyond["target"] = (limits.target_k - circuit.air_off()[0]) / 5.0
        if limits.internal:
            beyond["ceiling"] = internal_excess(self.valve, circuit)
        elif limits.share_high is not None:
            beyond["ceiling"] = share_needed(self.valve, circuit) - limits.share_high
        if limits.back_off_pa is not None:
            beyond["back-off"] = (circuit.high_gauge - limits.back_off_pa) / 300e3
        return beyond


def deciding(beyond: Mapping[str, float]) -> str:
    """The limit that decides: the furthest passed, unless the smallest stroke does not even get there."""
    furthest = max((name for name in beyond if name not in _NOT_LIMITS), key=beyond.__getitem__)
    return furthest if beyond[furthest] < beyond[MINIMUM] else MINIMUM


def _crossing(x0: float, before: Mapping[str, float], x1: float, now: Mapping[str, float]) -> float:
    """Where the same rule applied to straight lines through two states is zero."""
    places: dict[str, float] = {}
    for name, value in now.items():
        slope = (value - before[name]) / (x1 - x0)
        if slope < 0.0:
            places[name] = x1 - value / slope
        else:
            places[name] = math.inf if value > 0.0 else -math.inf
    smallest = places.pop(MINIMUM)
    return min(max(places.values()), smallest)
