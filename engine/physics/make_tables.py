"""Makes the shipped property tables from CoolProp: `python -m engine.physics.make_tables [--check]`.

The only module of the engine that imports CoolProp. `--check` makes the tables anew, compares them with the
shipped ones, and exits 0 if they are current, 1 if not.

Equations of state behind them: R-134a J. Phys. Chem. Ref. Data 23 (1994); R-1234yf Int. J. Thermophys. 43
(2022);
R-152a and R-744 J. Phys. Chem. Ref. Data 25 (1996). Enthalpy and entropy count from saturated liquid at
0 degC (200 kJ/kg, 1 kJ/(kg K)).
"""

from __future__ import annotations

import argparse
import json
import math
import sys
from typing import Any

from CoolProp import CoolProp as CP

from engine.physics.agree import agree
from engine.physics.property_table import REFRIGERANTS, TABLE_FOLDER, TABLE_VERSION

_FLUIDS = {"R-134a": "R134a", "R-1234yf": "R1234yf", "R-152a": "R152A", "R-744": "CO2"}
_WITH_CYCLE = ("R-134a", "R-1234yf")

_CALORIC_COLUMNS = ("liquid_enthalpy", "liquid_entropy", "vapour_enthalpy", "vapour_entropy")

_LOW_K = {"R-744": 217.15}  # 0.6 K above its triple point
_DEFAULT_LOW_K = 213.15  # -60 degC, 16 to 23 kPa absolute: deeper than any low side in service
_CRITICAL_MARGIN_K = 0.5  # nearer to the critical point equations and gauges are both of no use
_NODES = 96

_GRID_FIRST_K, _GRID_STEP_K, _GRID_TOP_MARGIN_K = 213.15, 4.0, 8.0
_ROOT_STEP, _ROOT_COLUMNS = 0.5, 21  # superheat 0, 0.25, 1, … 100 K
_DIGITS = 12  # significant, as stored


def make(name: str) -> dict[str, Any]:
    """The table of one refrigerant, as it is stored."""
    state = CP.AbstractState("HEOS", _FLUIDS[name])
    critical_k = state.T_critical()
    low_k, high_k = _LOW_K.get(name, _DEFAULT_LOW_K), critical_k - _CRITICAL_MARGIN_K
    table = {
        "refrigerant": name,
        "version": TABLE_VERSION,
        "equation_of_state": CP.get_BibTeXKey(_FLUIDS[name], "EOS"),
        "critical_temperature": critical_k,
        "critical_pressure": _stored(state.p_critical()),
        "low_temperature": low_k,
        "high_temperature": _stored(high_k),
        "saturation": _saturation(state, critical_k, low_k, high_k, name in _WITH_CYCLE),
    }
    if name in _WITH_CYCLE:
        table["superheated"] = _superheated(state, critical_k)
    return table


def _saturation(state: Any, critical_k: float, low_k: float, high_k: float, caloric: bool) -> dict[str, Any]:
    x_first, x_last = ((1.0 - t / critical_k) ** (1.0 / 3.0) for t in (low_k, high_k))
    x_step = (x_last - x_first) / (_NODES - 1)
    columns: dict[str, Any] = {"ln_pressure": _empty()}
    if caloric:
        columns |= {
            f"{phase}_{p}": _empty() for phase in ("liquid", "vapour") for p in ("enthalpy", "entropy")
        }
    for node in range(_NODES):
        x = x_first + node * x_step
        kelvin_per_node = -3.0 * critical_k * x * x * x_step
        _add_node(state, critical_k * (1.0 - x**3), kelvin_per_node, columns)
    return {"x_first": x_first, "x_step": x_step, **columns}


def _empty() -> dict[str, list[float]]:
    return {"values": [], "slopes": []}


def _add_node(state: Any, temperature_k: float, kelvin_per_node: float, columns: dict[str, Any]) -> None:
    def add(column: str, value: float, slope_per_k: float) -> None:
        columns[column]["values"].append(_stored(value))
        columns[column]["slopes"].append(_stored(slope_per_k * kelvin_per_node))

    for quality, phase in ((0.0, "liquid"), (1.0, "vapour")):
        state.update(CP.QT_INPUTS, quality, temperature_k)
        if phase == "vapour":
            pressure = state.p()
            add("ln_pressure", math.log(pressure), state.first_saturation_deriv(CP.iP, CP.iT) / pressure)
        if f"{phase}_enthalpy" in columns:
            add(f"{phase}_enthalpy", state.hmass(), state.first_saturation_deriv(CP.iHmass, CP.iT))
            add(f"{phase}_entropy", state.smass(), state.first_saturation_deriv(CP.iSmass, CP.iT))


def _superheated(state: Any, critical_k: float) -> dict[str, Any]:
    rows = int((critical_k - _GRID_TOP_MARGIN_K - _GRID_FIRST_K) / _GRID_STEP_K) + 1
    enthalpy, entropy = [], []
    for row in range(rows):
        points = [_vapour_point(state, _GRID_FIRST_K + row * _GRID_STEP_K, c) for c in range(_ROOT_COLUMNS)]
        enthalpy.append([_stored(h, 9) for h, _ in points])
        entropy.append([_stored(s, 9) for _, s in points])
    return {
        "first_saturation": _GRID_FIRST_K,
        "saturation_step": _GRID_STEP_K,
        "root_step": _ROOT_STEP,
        "highest_temperature": state.Tmax(),
        "enthalpy": enthalpy,
        "entropy": entropy,
    }


def _vapour_point(state: Any, saturation_k: float, column: int) -> tuple[float, float]:
    state.update(CP.QT_INPUTS, 1.0, saturation_k)
    if column:
        state.update(CP.PT_INPUTS, state.p(), saturation_k + (column * _ROOT_STEP) ** 2)
    return state.hmass(), state.smass()


def _stored(value: float, digits: int = _DIGITS) -> float:
    return float(f"{value:.{digits}g}")


def _as_text(table: dict[str, Any]) -> str:
    return json.dumps(table, separators=(",", ":")) + "\n"


def _same(made: Any, shipped: Any) -> bool:
    """Equal but for the last digits, which differ between processors."""
    return agree(made, shipped, rel_tol=1e-8, abs_tol=1e-7)


def stale() -> list[str]:
    """Refrigerants whose shipped table is missing or differs from what CoolProp gives now."""

    def shipped(name: str) -> Any:
        path = TABLE_FOLDER / f"{name}.json"
        return json.loads(path.read_text(encoding="utf-8")) if path.exists() else None

    return [name for name in REFRIGERANTS if not _same(make(name), shipped(name))]


def main(arguments: list[str] | None = None) -> int:
    """Writes the tables, or with `--check` says whether the shipped ones are current."""
    parser = argparse.ArgumentParser(prog="python -m engine.physics.make_tables", description=__doc__)
    parser.add_argument("--check", action="store_true", help="write nothing; exit 1 if not current")
    if parser.parse_args(arguments).check:
        old = stale()
        print(f"not current: {', '.join(old)}; run without --check" if old else "all tables are current")
        return 1 if old else 0
    for name in REFRIGERANTS:
        path = TABLE_FOLDER / f"{name}.json"
        path.write_text(_as_text(make(name)), encoding="utf-8")
        print(f"{path.name}: {path.stat().st_size} bytes")
    return 0


if __name__ == "__main__":
    sys.exit(main())
