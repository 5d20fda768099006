"""Settling all at once: surface temperature, condensing temperature and liquid level by Newton's method.

The quick way, and right nearly always. Heat and charge are eliminated from the linearised circuit; what is
left of every limit is a straight line over the surface temperature, and the rule of `settling` picks the
place. It gives up rather than settle wrongly: then `settling` searches in brackets.
"""

from __future__ import annotations

import math

from engine.vehicle.circuit import CHARGE_TOLERANCE_KG, HEAT_TOLERANCE
from engine.vehicle.condenser import FLOOD_LIMIT, LOWEST_LEVEL, RECEIVER_SPAN
from engine.vehicle.settling import LOWEST_SURFACE_K, MINIMUM, TOLERANCE, Settling, deciding

_PASSES, _DAMPED_PASSES = 12, 20  # more once steps are shortened
_REVERSAL, _REGAIN = 0.4, 1.5  # of the last step; of the trust in the next
_NUDGE = (-0.02, 0.02, 2e-4)  # K, K, level: differences for the slopes
_LONGEST = (7.0, 10.0, 0.12)  # steps beyond which straight lines are not trusted
_BEYOND_KINK = 1e-3
_HIGHEST_LEVEL = FLOOD_LIMIT + RECEIVER_SPAN

_Values = dict[str, float]


class Joint:
    """A settling, tried at once from a guess."""

    def __init__(self, settling: Settling) -> None:
        self.settling, self.circuit = settling, settling.circuit
        self.top_k = self.circuit.fluid.last_k - 2.0

    def solve(self, surface_k: float) -> str | None:
        """Leaves the circuit settled and returns the limit that holds it; None if that was not to be had."""
        circuit = self.circuit
        circuit.given_flow = None
        place = (surface_k, circuit.condensing_k, circuit.level)
        trust, damped = 1.0, False
        last: tuple[float, ...] = (0.0, 0.0, 0.0)
        for turn in range(_DAMPED_PASSES):
            values = self._values(place)
            active = deciding(values)
            if self._closes(values, active):
                return active
            step = self._step(place, values, active)
            if step is None or (turn + 1 >= _PASSES and not damped):
                return None
            trust = _trusted(trust, last, step)
            damped = damped or trust < 1.0
            last = tuple(trust * x for x in step)
            place = self._moved(place, last)
        return None

    def _closes(self, values: _Values, active: str) -> bool:
        return (
            abs(values[active]) <= TOLERANCE
            and abs(self.circuit.heat_surplus) <= HEAT_TOLERANCE
            and abs(self.circuit.inventory - self.circuit.charge) <= CHARGE_TOLERANCE_KG
        )

    def _values(self, place: tuple[float, float, float]) -> _Values:
        """Every limit, and what heat and charge lack, at a place that need not be in balance."""
        surface_k, condensing_k, level = place
        circuit = self.circuit
        circuit.cool_to(surface_k)
        circuit.set_level(level)
        surplus = circuit.heat_at(condensing_k)
        circuit.level = level
        values = self.settling.beyond()
        values["charge"] = circuit.surplus_kg(level)
        values["heat"] = surplus / (1.0 + surplus) * (condensing_k - circuit.face.inlet_k)
        return values

    def _step(
        self, place: tuple[float, float, float], base: _Values, active: str
    ) -> tuple[float, ...] | None:
        """The move to where the linearised circuit is settled."""
        slopes = []
        for i in range(3):
            nudged = [x + (_NUDGE[i] if i == k else 0.0) for k, x in enumerate(place)]
            moved = self._values((nudged[0], nudged[1], nudged[2]))
            slopes.append({name: (moved[name] - base[name]) / _NUDGE[i] for name in base})
        return _linear_step(base, slopes, active)

    def _moved(
        self, place: tuple[float, float, float], step: tuple[float, ...]
    ) -> tuple[float, float, float]:
        """`place` after a step shortened to what is trusted, inside the bounds of each number."""
        share = min(1.0, *(longest / max(abs(d), 1e-12) for d, longest in zip(step, _LONGEST, strict=True)))
        surface_k, condensing_k, level = (x + share * d for x, d in zip(place, step, strict=True))
        circuit = self.circuit
        return (
            min(max(surface_k, LOWEST_SURFACE_K), circuit.coil.air_k - 0.02),
            min(max(condensing_k, circuit.face.inlet_k + 0.05), self.top_k),
            min(max(self._one_side(place[2], level), LOWEST_LEVEL), _HIGHEST_LEVEL),
        )

    def _one_side(self, old: float, new: float) -> float:
        """Stops a level that passes a kink of the charge just beyond it, where the new slope holds."""
        part = self.circuit.face.part
        kinks = (0.0, part.subcooler_share, part.subcooler_share + RECEIVER_SPAN)
        passed = [k for k in kinks if (old - k) * (new - k) < 0.0]
        if not passed:
            return new
        nearest = min(passed, key=lambda k: abs(k - old))
        beyond = nearest + math.copysign(_BEYOND_KINK, new - old)
        return beyond if abs(beyond - old) < abs(new - old) else new


def _trusted(trust: float, last: tuple[float, ...], step: tuple[float, ...]) -> float:
    """Share of a step to take: half as much when it goes back most of the way the last one came.

    Where an orifice tube's coil turns from dry to wet the slopes change, and full steps go to and fro.
    """
    back = sum(x * y / (scale * scale) for x, y, scale in zip(last, step, _LONGEST, strict=True))
    size = sum(x * x / (scale * scale) for x, scale in zip(last, _LONGEST, strict=True))
    return 0.5 * trust if back < -_REVERSAL * size else min(1.0, _REGAIN * trust)


def _linear_step(base: _Values, slopes: list[_Values], active: str) -> tuple[float, ...] | None:
    """Solves the linearised heat and charge for two of the moves, then the limits for the third."""
    by_surface, by_condensing, by_level = slopes
    h, c = by_condensing, by_level
    determinant = h["heat"] * c["charge"] - c["heat"] * h["charge"]
    if determinant == 0.0:
        return None

    def follow(heat: float, charge: float) -> tuple[float, float]:
        return (
            (c["heat"] * charge - c["charge"] * heat) / determinant,
            (h["charge"] * heat - h["heat"] * charge) / determinant,
        )

    condensing_0, level_0 = follow(base["heat"], base["charge"])
    condensing_1, level_1 = follow(by_surface["heat"], by_surface["charge"])
    places: _Values = {}
    for name, value in base.items():
        if name in ("heat", "charge"):
            continue
        here = value + h[name] * condensing_0 + c[name] * level_0
        slope = by_surface[name] + h[name] * condensing_1 + c[name] * level_1
        if slope < 0.0 or (name == active and slope > 0.0):
            places[name] = -here / slope
        else:
            places[name] = math.inf if here > 0.0 else -math.inf
    smallest = places.pop(MINIMUM)
    surface = min(max(places.values()), smallest)
    if not math.isfinite(surface):
        return None
    return surface, condensing_0 + condensing_1 * surface, level_0 + level_1 * surface
