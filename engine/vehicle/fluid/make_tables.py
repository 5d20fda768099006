"""Makes the vehicle model's property tables: `python -m engine.vehicle.fluid.make_tables [--check]`.

The only module of `engine.vehicle` that imports CoolProp. The shipped physics tables answer a person; these
answer a solver: densities are there, every lookup is one polynomial, and nothing is solved for. `--check`
exits 1 if the shipped tables are not what CoolProp gives now.
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from typing import Any

import numpy as np
from CoolProp import CoolProp as CP

from engine.physics.agree import agree
from engine.vehicle.fluid.table import FIRST_K, FLUIDS, ROW_STEP_K, TABLE_FOLDER

_NAMES = {"R-134a": "R134a", "R-1234yf": "R1234yf"}
_LAST_K = {"R-134a": 369.15, "R-1234yf": 363.15}  # about 5 K below the critical point
_LARGEST_SUPERHEAT_K = 120.0
_POINTS = 41
_DIGITS = 10

_SATURATED = {"p": CP.iP, "liquid_h": CP.iHmass, "vapour_h": CP.iHmass, "vapour_s": CP.iSmass,
              "liquid_rho": CP.iDmass, "vapour_rho": CP.iDmass}  # fmt: skip


def make(name: str) -> dict[str, Any]:
    """The table of one refrigerant, as stored."""
    state = CP.AbstractState("HEOS", _NAMES[name])
    count = round((_LAST_K[name] - FIRST_K) / ROW_STEP_K) + 1
    kelvins = [FIRST_K + i * ROW_STEP_K for i in range(count)]
    table: dict[str, Any] = {"refrigerant": name, "equation_of_state": CP.get_BibTeXKey(_NAMES[name], "EOS")}
    for key, output in _SATURATED.items():
        table[key] = [_node(state, kelvin, 0.0 if "liquid" in key else 1.0, output) for kelvin in kelvins]
    rows = [_row(state, kelvin) for kelvin in kelvins]
    for key in ("enthalpy", "superheat", "volume", "entropy", "ideal"):
        table[key] = [row[key] for row in rows]
    return table


def _node(state: Any, kelvin: float, quality: float, output: int) -> list[float]:
    """Value and slope per row step along the saturation line."""
    state.update(CP.QT_INPUTS, quality, kelvin)
    slope = state.first_saturation_deriv(output, CP.iT) * ROW_STEP_K
    return [_stored(state.keyed_output(output)), _stored(slope)]


def _row(state: Any, kelvin: float) -> dict[str, list[float]]:
    """Polynomials through zero for superheated vapour at one saturation temperature (SI)."""
    state.update(CP.QT_INPUTS, 1.0, kelvin)
    pressure, h0, s0, v0 = state.p(), state.hmass(), state.smass(), 1.0 / state.rhomass()
    end = min(_LARGEST_SUPERHEAT_K, state.Tmax() - kelvin)
    superheats = 0.5 * end * (1.0 - np.cos(np.linspace(0.0, math.pi, _POINTS)))[1:]
    h, s, v = (np.empty_like(superheats) for _ in range(3))
    for i, superheat in enumerate(superheats):
        state.update(CP.PT_INPUTS, pressure, kelvin + superheat)
        h[i], s[i], v[i] = state.hmass() - h0, state.smass() - s0, 1.0 / state.rhomass() / v0 - 1.0
    return {
        "enthalpy": _fit(superheats, h),
        "superheat": _fit(h, superheats),
        "volume": _fit(superheats, v),
        "entropy": _fit(superheats, s),
        "ideal": _fit(s, h),
    }


def _fit(x: Any, y: Any) -> list[float]:
    """c1..c5 of y = c1 x + ... + c5 x^5, best in the relative sense, with the last x for what lies beyond."""
    end = float(x[-1])
    u = x / end
    powers = np.stack([u**k for k in range(1, 6)], axis=1)
    weights = 1.0 / np.sqrt(np.abs(y))
    coefficients = np.linalg.lstsq(powers * weights[:, None], y * weights, rcond=None)[0]
    return [_stored(c / end**k) for k, c in enumerate(coefficients, start=1)] + [_stored(end)]


def _stored(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")


def _same(made: Any, shipped: Any) -> bool:
    """Equal but for what differs between processors (fits are the more sensitive)."""
    return agree(made, shipped, rel_tol=1e-4, abs_tol=1e-12)


def stale() -> list[str]:
    """Refrigerants whose shipped table is missing or differs from what CoolProp gives now."""
    old = []
    for name in FLUIDS:
        path = TABLE_FOLDER / f"{name}.json"
        shipped = json.loads(path.read_text(encoding="utf-8")) if path.exists() else None
        if not _same(make(name), shipped):
            old.append(name)
    return old


def main(arguments: list[str] | None = None) -> int:
    """Writes the tables, or with `--check` says whether the shipped ones are current."""
    parser = argparse.ArgumentParser(prog="python -m engine.vehicle.fluid.make_tables", description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 if not current")
    if parser.parse_args(arguments).check:
        old = stale()
        print(f"not current: {', '.join(old)}; run without --check" if old else "all tables are current")
        return 1 if old else 0
    TABLE_FOLDER.mkdir(exist_ok=True)
    for name in FLUIDS:
        path = TABLE_FOLDER / f"{name}.json"
        path.write_text(json.dumps(make(name), separators=(",", ":")) + "\n", encoding="utf-8")
        print(f"{path.name}: {path.stat().st_size} bytes")
    return 0


if __name__ == "__main__":
    sys.exit(main())
