"""Fast refrigerant properties for the solver: R-134a and R-1234yf, from shipped tables.

One row per 1.5 K of saturation temperature, -60 degC to about 5 K below the critical point. Along the line
cubic Hermite pieces; superheated vapour as a polynomial a row, blended between two rows. Errors against the
equations of state: tests/engine/vehicle/test_fluid.py (0.05 K, 0.2 %). Enthalpy J/kg and entropy J/(kg K)
count as CoolProp does by default; only differences matter here. Arguments beyond the table are held at its
end: the solver may look there on its way, a settled state never lies there.
"""

from __future__ import annotations

import json
import math
from functools import cache
from itertools import pairwise
from pathlib import Path

FLUIDS = ("R-134a", "R-1234yf")
TABLE_FOLDER = Path(__file__).parent / "tables"
FIRST_K, ROW_STEP_K = 213.15, 1.5

Cubic = tuple[float, float, float, float]
Row = tuple[float, float, float, float, float, float]


class Fluid:
    """One refrigerant. Temperatures K, pressures Pa absolute, `superheat` K above saturation."""

    __slots__ = (
        "_enthalpy", "_entropy", "_ideal", "_last", "_liquid_h", "_liquid_rho", "_p", "_places", "_superheat",
        "_vapour_h", "_vapour_rho", "_vapour_s", "_volume", "first_k", "last_k", "ln_first", "ln_step",
        "name",
    )  # fmt: skip

    def __init__(self, name: str) -> None:
        data = json.loads((TABLE_FOLDER / f"{name}.json").read_text(encoding="utf-8"))
        self.name = name
        self._p = _pieces(data["p"])
        self._liquid_h, self._vapour_h = _pieces(data["liquid_h"]), _pieces(data["vapour_h"])
        self._vapour_s = _pieces(data["vapour_s"])
        self._liquid_rho, self._vapour_rho = _pieces(data["liquid_rho"]), _pieces(data["vapour_rho"])
        self._enthalpy, self._superheat = _rows(data["enthalpy"]), _rows(data["superheat"])
        self._volume, self._entropy, self._ideal = (_rows(data[k]) for k in ("volume", "entropy", "ideal"))
        self._last = len(self._p) - 1e-9
        self.first_k, self.last_k = FIRST_K, FIRST_K + len(self._p) * ROW_STEP_K
        nodes = 2 * len(self._p)
        self.ln_first = math.log(self.pressure(self.first_k))
        self.ln_step = (math.log(self.pressure(self.last_k)) - self.ln_first) / nodes
        self._places = _pieces(
            [self._inverse_node(self.ln_first + i * self.ln_step) for i in range(nodes + 1)]
        )

    # -- along the saturation line

    def pressure(self, kelvin: float) -> float:
        """Saturation pressure."""
        return self._on_line(self._p, kelvin)

    def liquid_enthalpy(self, kelvin: float) -> float:
        """Saturated liquid; subcooled liquid is taken at its own temperature."""
        return self._on_line(self._liquid_h, kelvin)

    def vapour_enthalpy(self, kelvin: float) -> float:
        """Saturated vapour."""
        return self._on_line(self._vapour_h, kelvin)

    def liquid_density(self, kelvin: float) -> float:
        """Saturated liquid, kg/m3."""
        return self._on_line(self._liquid_rho, kelvin)

    def vapour_density(self, kelvin: float) -> float:
        """Saturated vapour, kg/m3."""
        return self._on_line(self._vapour_rho, kelvin)

    def saturation(self, pascal: float) -> float:
        """Saturation temperature."""
        x = (math.log(pascal) - self.ln_first) / self.ln_step if pascal > 0.0 else 0.0
        x = min(max(x, 0.0), len(self._places) - 1e-9)
        i = int(x)
        x -= i
        a, b, c, d = self._places[i]
        return a + x * (b + x * (c + x * d))

    # -- superheated vapour, by saturation temperature (K) of its pressure

    def gain(self, saturation_k: float, superheat: float) -> float:
        """Enthalpy above saturated vapour, J/kg."""
        return self._blend(self._enthalpy, saturation_k, superheat)

    def superheat(self, saturation_k: float, gain: float) -> float:
        """Superheat of vapour with `gain` J/kg above saturated; negative gain gives a negative number."""
        return self._blend(self._superheat, saturation_k, gain)

    def density(self, saturation_k: float, superheat: float) -> float:
        """kg/m3."""
        return self.vapour_density(saturation_k) / (1.0 + self._blend(self._volume, saturation_k, superheat))

    def entropy(self, saturation_k: float, superheat: float) -> float:
        """J/(kg K)."""
        base = self._on_line(self._vapour_s, saturation_k)
        return base + self._blend(self._entropy, saturation_k, superheat)

    def ideal_enthalpy(self, saturation_k: float, entropy: float) -> float:
        """Enthalpy where vapour at that saturation temperature has `entropy`; in the dome dh = T ds."""
        rise = entropy - self._on_line(self._vapour_s, saturation_k)
        if rise < 0.0:
            return self.vapour_enthalpy(saturation_k) + saturation_k * rise
        return self.vapour_enthalpy(saturation_k) + self._blend(self._ideal, saturation_k, rise)

    # -- inside

    def _on_line(self, pieces: list[Cubic], kelvin: float) -> float:
        x = (kelvin - FIRST_K) / ROW_STEP_K
        if not 0.0 <= x <= self._last:
            x = 0.0 if x < 0.0 else self._last
        i = int(x)
        x -= i
        a, b, c, d = pieces[i]
        return a + x * (b + x * (c + x * d))

    def _blend(self, rows: list[Row], kelvin: float, u: float) -> float:
        x = (kelvin - FIRST_K) / ROW_STEP_K
        if not 0.0 <= x <= self._last:
            x = 0.0 if x < 0.0 else self._last
        i = int(x)
        x -= i
        a, b, c, d, e, end = rows[i]
        if 0.0 <= u <= end:
            low = u * (a + u * (b + u * (c + u * (d + u * e))))
            a, b, c, d, e, end = rows[i + 1]
            return low + x * (u * (a + u * (b + u * (c + u * (d + u * e)))) - low)
        low = _beyond(rows[i], u)
        return low + x * (_beyond(rows[i + 1], u) - low)

    def _inverse_node(self, ln_pressure: float) -> list[float]:
        """Saturation temperature at ln p, and its slope per node, from the pressure pieces."""
        low, high = self.first_k, self.last_k
        target = math.exp(ln_pressure)
        while high - low > 1e-9:
            middle = 0.5 * (low + high)
            low, high = (middle, high) if self.pressure(middle) < target else (low, middle)
        kelvin = 0.5 * (low + high)
        slope = (self.pressure(kelvin + 0.01) - self.pressure(kelvin - 0.01)) / 0.02
        if kelvin < self.first_k + 0.02 or kelvin > self.last_k - 0.02:
            inner = min(max(kelvin, self.first_k + 0.02), self.last_k - 0.02)
            slope = (self.pressure(inner + 0.01) - self.pressure(inner - 0.01)) / 0.02
        return [kelvin, self.ln_step * target / slope]


@cache
def fluid(name: str) -> Fluid:
    """The properties of one of `FLUIDS`, read on first use (about 5 ms). Raises KeyError for another."""
    if name not in FLUIDS:
        raise KeyError(f"the simulated vehicle has no refrigerant {name!r}; it has {', '.join(FLUIDS)}")
    return Fluid(name)


def _beyond(row: Row, u: float) -> float:
    """A straight line on from the end of a row (or down from zero)."""
    a, b, c, d, e, end = row
    if u <= 0.0:
        return a * u
    near = min(u, end)
    value = near * (a + near * (b + near * (c + near * (d + near * e))))
    if u <= end:
        return value
    return value + (u - end) * (a + end * (2 * b + end * (3 * c + end * (4 * d + end * 5 * e))))


def _pieces(nodes: list[list[float]]) -> list[Cubic]:
    """Cubic Hermite pieces from values and slopes at evenly spaced nodes."""
    pieces = []
    for (v0, s0), (v1, s1) in pairwise(nodes):
        rise = v1 - v0
        pieces.append((v0, s0, 3.0 * rise - 2.0 * s0 - s1, s0 + s1 - 2.0 * rise))
    return pieces


def _rows(data: list[list[float]]) -> list[Row]:
    return [(a, b, c, d, e, end) for a, b, c, d, e, end in data]
