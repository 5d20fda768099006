"""The shipped tables are current, accurate between their nodes, and cost nothing that a screen would feel."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from CoolProp import CoolProp as CP

from engine.physics import make_tables
from engine.physics.property_table import REFRIGERANTS, TABLE_FOLDER, TABLE_VERSION, load

ROOT = Path(__file__).parents[3]
FLUIDS = {"R-134a": "R134a", "R-1234yf": "R1234yf", "R-152a": "R152A", "R-744": "CO2"}


def between_nodes(name: str) -> list[float]:
    """Temperatures a third and a half of the way between neighbouring nodes, where interpolation is worst."""
    table = load(name)
    nodes = len(table.ln_pressure.values)
    temperatures = []
    for node in range(nodes - 1):
        for share in (1 / 3, 1 / 2):
            x = table.x_first + (node + share) * table.x_step
            temperatures.append(table.critical_temperature_k * (1 - x**3))
    return temperatures


@pytest.mark.parametrize("name", REFRIGERANTS)
def test_pressure_and_temperature_against_the_equation_of_state(name: str) -> None:
    table = load(name)
    for temperature in between_nodes(name):
        pressure = CP.PropsSI("P", "T", temperature, "Q", 1, FLUIDS[name])
        assert table.pressure(temperature) == pytest.approx(pressure, rel=1e-5)  # 0.001 %
        assert table.temperature(pressure) == pytest.approx(temperature, abs=0.001)


@pytest.mark.parametrize("name", ["R-134a", "R-1234yf"])
@pytest.mark.parametrize(("quality", "phase"), [(0, "liquid"), (1, "vapour")])
def test_enthalpy_and_entropy_against_the_equation_of_state(name: str, quality: int, phase: str) -> None:
    table = load(name)
    curves = getattr(table, phase)
    for temperature in between_nodes(name):
        enthalpy = CP.PropsSI("H", "T", temperature, "Q", quality, FLUIDS[name])
        entropy = CP.PropsSI("S", "T", temperature, "Q", quality, FLUIDS[name])
        place = table.place(temperature)
        assert curves.enthalpy.at(place) == pytest.approx(enthalpy, abs=0.1)  # J/kg, of 200 to 420 thousand
        assert curves.entropy.at(place) == pytest.approx(entropy, abs=0.001)  # J/(kg K)


def test_tables_are_current() -> None:
    assert make_tables.stale() == []


def test_check_says_so_and_notices_a_changed_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in REFRIGERANTS:
        data = json.loads((TABLE_FOLDER / f"{name}.json").read_text())
        if name == "R-152a":
            data["saturation"]["ln_pressure"]["values"][7] += 1e-6
        (tmp_path / f"{name}.json").write_text(json.dumps(data))
    monkeypatch.setattr(make_tables, "TABLE_FOLDER", tmp_path)
    assert make_tables.main(["--check"]) == 1
    assert "not current: R-152a" in capsys.readouterr().out
    (tmp_path / "R-152a.json").unlink()
    assert make_tables.stale() == ["R-152a"]


def test_making_writes_what_check_accepts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(make_tables, "TABLE_FOLDER", tmp_path)
    assert make_tables.main([]) == 0
    assert make_tables.main(["--check"]) == 0


def test_the_version_stands_in_every_table() -> None:
    for name in REFRIGERANTS:
        assert json.loads((TABLE_FOLDER / f"{name}.json").read_text())["version"] == TABLE_VERSION
    assert CP.get_global_param_string("version") in TABLE_VERSION


def test_enthalpy_counts_from_liquid_at_0_degc() -> None:
    """200 kJ/kg and 1 kJ/(kg K): the reference state named in the table maker."""
    for name in ("R-134a", "R-1234yf"):
        table = load(name)
        assert table.liquid is not None
        place = table.place(273.15)
        assert table.liquid.enthalpy.at(place) == pytest.approx(200e3, abs=1.0)
        assert table.liquid.entropy.at(place) == pytest.approx(1000.0, abs=0.01)


MODULES = [
    "quantity",
    "atmosphere",
    "refrigerant",
    "vapour",
    "cycle",
    "moist_air",
    "solenoid",
    "bands",
    "static",
]
HEAVY = ["CoolProp", "numpy", "pydantic", "yaml", "textual", "scipy"]


def test_reading_properties_imports_nothing_heavy() -> None:
    program = (
        f"import sys; import {', '.join('engine.physics.' + m for m in MODULES)}\n"
        "from engine.physics.refrigerant import dew_pressure\n"
        "dew_pressure('R-134a', 300.0)\n"
        f"print([m for m in {HEAVY!r} if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
