"""Fits the cells of `engine.physics.fleet_table` to samples of the healthy fleet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from engine.physics.fleet_table import AMBIENT_NODES_C, DAMPNESS_NODES, grid_weights, speed_terms
from engine.vehicle.band_sample import Sample

__all__ = ["QUANTILES", "fit_cells"]

Array = NDArray[np.float64]

QUANTILES = (0.01, 0.99)
"""Of single healthy vehicles, before instruments."""

_LOADS, _COMMANDS = ("lowered", "moderate", "raised"), ("minimum", "part", "ceiling")
_READINGS = ("low_side", "high_side", "vent_temperature")
_FEWEST = 200  # samples for a cell
_STIFF = 0.5  # weight of the grid's second differences: bridges grid points few cars come near
_NEAREST, _NEAR_K = 250, 4.0  # residuals that a quantile is taken from: all so near, and at least so many
_DIGITS = 4  # decimals stored: 0.1 mK


def fit_cells(samples: Sequence[Sample]) -> dict[str, Any]:
    """Cells as stored, by "load/command/bin"; those with too few samples are left out."""
    cells: dict[str, Any] = {}
    for load in _LOADS:
        for command in _COMMANDS:
            for idle in (True, False):
                here = [s for s in samples if s.load == load and s.idle is idle]
                alike = [s for s in here if command in s.commands]
                if len(alike) >= _FEWEST:
                    name = f"{load}/{command}/{'idle' if idle else 'held'}"
                    cells[name] = _cell(alike, _own_shares(here, command))
    return cells


def _own_shares(samples: list[Sample], command: str) -> list[float]:
    """Share of cars whose own control comes to `command`, near each grid line of ambient."""
    own = [s for s in samples if s.own]
    ambient = np.array([s.ambient_c for s in own])
    here = np.array([command in s.commands for s in own])
    return [round(float(here[np.abs(ambient - node) <= _NEAR_K].mean()), 3) for node in AMBIENT_NODES_C]


def _cell(samples: list[Sample], own: list[float]) -> dict[str, Any]:
    # A vent with the command held at its least, or with A/C off, does not cool: that is no healthy vent.
    cooling = [s for s in samples if s.own or s.commands != ("minimum",)]
    columns = {
        name: _column(rows, name)
        for name in _READINGS
        for rows in (cooling if name == "vent_temperature" else samples,)
        if len(rows) >= _FEWEST
    }
    return {
        "count": len(samples),
        "reach": _reach(samples),
        "own": own,
        "columns": columns,
    }


def _reach(samples: list[Sample]) -> list[float]:
    low, high = np.quantile([s.ambient_c for s in samples], (0.005, 0.995))
    return [round(float(low), 1), round(float(high), 1)]


def _column(samples: list[Sample], name: str) -> dict[str, list[float]]:
    ambient = np.array([s.ambient_c for s in samples])
    values = np.array([getattr(s, name) for s in samples])
    design = np.zeros((len(samples), _GRID + 3))
    for row, s in enumerate(samples):
        for i, weight in grid_weights(s.ambient_c, s.damp):
            design[row, i] = weight
        design[row, _GRID:] = speed_terms(s.ambient_c, s.speed)
    stiff = _stiffness()
    aims = np.append(values, np.zeros(len(stiff)))
    found = np.linalg.lstsq(np.vstack([design, stiff]), aims, rcond=None)[0]
    off = values - design @ found
    ends = np.array([_quantiles(ambient, off, node) for node in AMBIENT_NODES_C])
    return {
        "grid": _stored(found[:_GRID]),
        "speed": _stored(found[_GRID:]),
        "low": _stored(ends[:, 0]),
        "high": _stored(ends[:, 1]),
    }


_GRID = len(AMBIENT_NODES_C) * len(DAMPNESS_NODES)


def _stiffness() -> Array:
    """Rows that hold bends of the grid small along ambient and dampness, and the speed terms near none."""
    across, rows = len(DAMPNESS_NODES), []
    for i in range(len(AMBIENT_NODES_C)):
        for j in range(across):
            for step, inside in ((across, 0 < i < len(AMBIENT_NODES_C) - 1), (1, 0 < j < across - 1)):
                if inside:
                    row = np.zeros(_GRID + 3)
                    at = i * across + j
                    row[[at - step, at, at + step]] = _STIFF * np.array([1.0, -2.0, 1.0])
                    rows.append(row)
    return np.vstack([np.array(rows), _STIFF * np.eye(_GRID + 3)[_GRID:]])


def _quantiles(ambient: Array, off: Array, node: float) -> Array:
    away = np.abs(ambient - node)
    near = max(_NEAR_K, float(np.sort(away)[min(_NEAREST, len(away)) - 1]))
    return np.asarray(np.quantile(off[away <= near], QUANTILES))


def _stored(values: Array) -> list[float]:
    return [round(float(one), _DIGITS) for one in values]
