"""The shipped table of what healthy vehicles read, made by `python -m engine.vehicle.make_bands`.

A cell stands for one load state, command state and speed bin. In it each reading has a fitted value over
ambient and dampness (a grid, straight lines between), terms in engine speed, and the outer quantiles of what
single vehicles differ from the fit, one a grid line of ambient. Side readings are kept as temperatures
(evaporating in degC, condensing in K over ambient), so that one table serves every refrigerant.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from engine.physics.moist_air import saturation_pressure_water

__all__ = ["TABLE_PATH", "Cell", "Column", "Reach", "dampness", "fleet_cells", "grid_weights", "speed_terms"]

TABLE_PATH = Path(__file__).parent / "tables" / "healthy_fleet.json"

AMBIENT_NODES_C = (5.0, 12.0, 19.0, 26.0, 33.0, 40.0, 48.0)
DAMPNESS_NODES = (0.0, 0.5, 1.0)

IDLE_BELOW_PER_S = 1100.0 / 60.0
"""Engine speed (1/s) that parts the two speed bins: idling, and held up."""

SET_SPEEDS_PER_S = (1500.0 / 60.0, 2500.0 / 60.0)
"""Between these the sets are taken; what an unknown speed is taken for."""

_SLOWEST_PER_S, _FASTEST_PER_S = 700.0 / 60.0, 3000.0 / 60.0
_REFERENCE_PER_S, _PER_SPEED = 25.0, 60.0 / 1000.0

# Dampness 0 is air of 20 % relative humidity, 1 the dampest there is: 95 %, dew point never over 26 degC.
_DRIEST, _DAMPEST, _DAMPEST_PA = 0.20, 0.95, 3360.0


@dataclass(frozen=True, slots=True)
class Reach:
    """Range of ambient in degC."""

    low: float
    high: float

    def clamp(self, celsius: float) -> float:
        return min(max(celsius, self.low), self.high)


@dataclass(frozen=True, slots=True)
class Column:
    """One reading of a cell: grid (ambient by dampness), speed terms, residual quantiles by ambient."""

    grid: tuple[float, ...]
    speed: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]

    def ends(self, ambient_c: float, damp: float, speed: float) -> tuple[float, float]:
        """Lower and upper end in the column's own unit; `speed` in 1/s."""
        middle = sum(self.grid[i] * w for i, w in grid_weights(ambient_c, damp))
        middle += sum(c * t for c, t in zip(self.speed, speed_terms(ambient_c, speed), strict=True))
        along = _shares(AMBIENT_NODES_C, ambient_c)
        return (
            middle + sum(self.low[i] * w for i, w in along),
            middle + sum(self.high[i] * w for i, w in along),
        )


@dataclass(frozen=True, slots=True)
class Cell:
    """`reach` is the ambient the fleet covers; `own` the share of cars whose own control comes here, one a
    grid line of ambient; `highest_pa` the highest high side met (gauge): there controls take the
    command back.
    """

    reach: Reach
    own: tuple[float, ...]
    highest_pa: float
    columns: Mapping[str, Column]

    def own_share(self, ambient_c: float) -> float:
        """Share 0 to 1 of healthy cars in that ambient."""
        return sum(self.own[i] * weight for i, weight in _shares(AMBIENT_NODES_C, ambient_c))


def dampness(ambient_k: float, humidity: float) -> float:
    """0 (dry) to 1 (as damp as air of that temperature gets), from relative humidity 0 to 1."""
    saturation = saturation_pressure_water(ambient_k)
    dampest = min(_DAMPEST, _DAMPEST_PA / saturation)
    driest = min(_DRIEST, 0.5 * dampest)
    return min(max((humidity - driest) / (dampest - driest), 0.0), 1.0)


def grid_weights(ambient_c: float, damp: float) -> list[tuple[int, float]]:
    """Numbers of the grid's corners around a point, and their weights."""
    return [
        (i * len(DAMPNESS_NODES) + j, wi * wj)
        for i, wi in _shares(AMBIENT_NODES_C, ambient_c)
        for j, wj in _shares(DAMPNESS_NODES, damp)
    ]


def speed_terms(ambient_c: float, speed: float) -> tuple[float, float, float]:
    """What the speed coefficients multiply: 0 at 1500 1/min; `speed` in 1/s."""
    held = min(max(speed, _SLOWEST_PER_S), _FASTEST_PER_S)
    v = (held - _REFERENCE_PER_S) * _PER_SPEED
    return v, v * v, v * (ambient_c - 27.0) / 20.0


def _shares(nodes: Sequence[float], value: float) -> list[tuple[int, float]]:
    if value <= nodes[0]:
        return [(0, 1.0)]
    for i in range(1, len(nodes)):
        if value <= nodes[i]:
            share = (value - nodes[i - 1]) / (nodes[i] - nodes[i - 1])
            return [(i - 1, 1.0 - share), (i, share)]
    return [(len(nodes) - 1, 1.0)]


@lru_cache(maxsize=1)
def fleet_cells() -> Mapping[tuple[str, str, str], Cell]:
    """Cells by load, command and speed bin (`idle`, `held`)."""
    table = json.loads(TABLE_PATH.read_text(encoding="utf-8"))
    cells: dict[tuple[str, str, str], Cell] = {}
    for name, stored in table["cells"].items():
        load, command, speed_bin = name.split("/")
        cells[load, command, speed_bin] = _cell(stored, table["highest_high_side"])
    return cells


def _cell(stored: dict[str, Any], highest_pa: float) -> Cell:
    columns = {
        name: Column(tuple(c["grid"]), tuple(c["speed"]), tuple(c["low"]), tuple(c["high"]))
        for name, c in stored["columns"].items()
    }
    return Cell(Reach(*stored["reach"]), tuple(stored["own"]), highest_pa, columns)
