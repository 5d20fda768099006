"""The shipped property tables: loading and interpolation, nothing else.

A table is made by `engine.physics.make_tables` from a reference equation of state and shipped as
`tables/NAME.json`. Along the saturation line every property is a cubic Hermite polynomial over
x = (1 - T/Tc)**(1/3): in that coordinate the curves stay smooth up to the critical point, where over T
they end with a vertical tangent. Interpolation costs under 0.0001 % of pressure and 0.01 mK of temperature.
"""

from __future__ import annotations

import json
import math
from bisect import bisect_right
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

TABLE_VERSION = "1 (CoolProp 8.0.0)"
"""Changes whenever the shipped numbers do; kept with every job."""

TABLE_FOLDER = Path(__file__).parent / "tables"

REFRIGERANTS = ("R-134a", "R-1234yf", "R-152a", "R-744")
"""Refrigerants with a table. R-744 (carbon dioxide) has a saturation line only."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Cubic Hermite curve over node number: values at the nodes, slopes per node step."""

    values: tuple[float, ...]
    slopes: tuple[float, ...]

    def at(self, position: float) -> float:
        """Value at a place between the nodes (0 is the first node)."""
        node = min(max(int(position), 0), len(self.values) - 2)
        return self.inside(node, position - node)

    def inside(self, node: int, t: float) -> float:
        """Value in the segment after `node`, `t` from 0 to 1."""
        v0, v1, s0, s1 = self.values[node], self.values[node + 1], self.slopes[node], self.slopes[node + 1]
        rise = v1 - v0
        return v0 + t * (s0 + t * (3.0 * rise - 2.0 * s0 - s1 + t * (s0 + s1 - 2.0 * rise)))

    def place_of(self, value: float) -> float:
        """Place at which a rising curve has `value`: exactly the inverse of `at`."""
        node = min(max(bisect_right(self.values, value) - 1, 0), len(self.values) - 2)
        low, high = 0.0, 1.0
        for _ in range(60):
            middle = 0.5 * (low + high)
            if not low < middle < high:
                break
            if self.inside(node, middle) < value:
                low = middle
            else:
                high = middle
        return node + 0.5 * (low + high)


@dataclass(frozen=True, slots=True)
class Phase:
    """Saturated liquid or vapour: enthalpy in J/kg, entropy in J/(kg K)."""

    enthalpy: Curve
    entropy: Curve


@dataclass(frozen=True, slots=True)
class VapourGrid:
    """Superheated vapour: rows by saturation temperature, columns by the square root of superheat.

    `enthalpy` J/kg and `entropy` J/(kg K), one row per saturation temperature.
    """

    first_saturation_k: float
    saturation_step_k: float
    root_step: float  # of sqrt(superheat in K)
    highest_temperature_k: float  # end of validity of the equation of state
    enthalpy: tuple[tuple[float, ...], ...]
    entropy: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class PropertyTable:
    """One refrigerant. Temperatures in K, pressures in Pa absolute."""

    name: str
    critical_temperature_k: float
    critical_pressure_pa: float
    low_temperature_k: float
    high_temperature_k: float
    x_first: float
    x_step: float
    ln_pressure: Curve
    liquid: Phase | None
    vapour: Phase | None
    superheated: VapourGrid | None

    def place(self, temperature_k: float) -> float:
        """Where a saturation temperature lies among the nodes; range is the caller's duty."""
        x = math.pow(1.0 - temperature_k / self.critical_temperature_k, 1.0 / 3.0)
        return (x - self.x_first) / self.x_step

    def pressure(self, temperature_k: float) -> float:
        """Saturation pressure in Pa absolute."""
        return math.exp(self.ln_pressure.at(self.place(temperature_k)))

    def temperature(self, pressure_pa: float) -> float:
        """Saturation temperature in K."""
        x = self.x_first + self.x_step * self.ln_pressure.place_of(math.log(pressure_pa))
        return self.critical_temperature_k * (1.0 - x * x * x)

    @property
    def low_pressure_pa(self) -> float:
        return self.pressure(self.low_temperature_k)

    @property
    def high_pressure_pa(self) -> float:
        return self.pressure(self.high_temperature_k)


@cache
def load(name: str) -> PropertyTable:
    """The table of one of `REFRIGERANTS`, read on first use (about 1 ms)."""
    data = json.loads((TABLE_FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    saturation = data["saturation"]
    return PropertyTable(
        name=data["refrigerant"],
        critical_temperature_k=data["critical_temperature"],
        critical_pressure_pa=data["critical_pressure"],
        low_temperature_k=data["low_temperature"],
        high_temperature_k=data["high_temperature"],
        x_first=saturation["x_first"],
        x_step=saturation["x_step"],
        ln_pressure=_curve(saturation["ln_pressure"]),
        liquid=_phase(saturation, "liquid"),
        vapour=_phase(saturation, "vapour"),
        superheated=_grid(data["superheated"]) if "superheated" in data else None,
    )


def _curve(data: dict[str, list[float]]) -> Curve:
    return Curve(tuple(data["values"]), tuple(data["slopes"]))


def _phase(saturation: dict[str, Any], phase: str) -> Phase | None:
    if f"{phase}_enthalpy" not in saturation:
        return None
    return Phase(_curve(saturation[f"{phase}_enthalpy"]), _curve(saturation[f"{phase}_entropy"]))


def _grid(data: dict[str, Any]) -> VapourGrid:
    return VapourGrid(
        first_saturation_k=data["first_saturation"],
        saturation_step_k=data["saturation_step"],
        root_step=data["root_step"],
        highest_temperature_k=data["highest_temperature"],
        enthalpy=tuple(tuple(row) for row in data["enthalpy"]),
        entropy=tuple(tuple(row) for row in data["entropy"]),
    )
