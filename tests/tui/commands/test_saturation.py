"""`loadstep saturation`, against published tables and against what a person can get wrong."""

import json
from collections.abc import Callable
from dataclasses import dataclass

import pytest

from engine.physics.property_table import REFRIGERANTS
from tui.commands.main import main
from tui.commands.precise import FLUIDS

Run = Callable[..., "Done"]


@dataclass
class Done:
    """What a run left; in this process, since each import of CoolProp costs over a second."""

    returncode: int
    stdout: str
    stderr: str


@pytest.fixture
def loadstep(capsys: pytest.CaptureFixture[str]) -> Run:
    def run(*words: str) -> Done:
        try:
            code = main(["saturation", *words])
        except SystemExit as end:  # how argparse ends
            code = int(str(end.code))
        out, err = capsys.readouterr()
        return Done(code, out, err)

    return run


def _json(loadstep: Run, *words: str) -> dict[str, dict[str, dict[str, float | str]]]:
    done = loadstep(*words, "--json")
    assert (done.returncode, done.stderr) == (0, "")
    answer: dict[str, dict[str, dict[str, float | str]]] = json.loads(done.stdout)
    return answer


def _number(value: object) -> float:
    assert isinstance(value, float | int)
    return float(value)


def test_shape_is_the_documented_one(loadstep: Run) -> None:
    answer = _json(loadstep, "R-1234yf", "40 psi")
    assert list(answer) == ["refrigerant", "given", "dew", "bubble", "atmosphere"]
    assert answer["given"] == {"value": 40.0, "unit": "psi"}
    for end in ("dew", "bubble"):
        assert list(answer[end]) == ["temperature", "pressure_gauge", "pressure_absolute"]
        assert [answer[end][name]["unit"] for name in answer[end]] == ["K", "Pa", "Pa"]


@pytest.mark.parametrize(
    ("celsius", "kpa"),
    # Condensing table of a component-selection repository (racbrasil/racselector), an older formulation than
    # CoolProp's, kPa absolute; it is up to 0.11 % away from the newer equation of state.
    [("-10", 200.60), ("10", 414.92), ("30", 771.02), ("45", 1161.01)],
)
def test_r134a_against_an_independent_table(loadstep: Run, celsius: str, kpa: float) -> None:
    answer = _json(loadstep, "R-134a", f"{celsius} degC")
    for end in ("dew", "bubble"):
        assert _number(answer[end]["pressure_absolute"]["value"]) == pytest.approx(kpa * 1e3, rel=0.0015)


def test_gauge_is_absolute_less_the_atmosphere(loadstep: Run) -> None:
    # Table values: 6 bar absolute condenses at 21.54 degC (Mechanical Engineers' Handbook vol. 4, table 14).
    bar_gauge = 6 - 1.01325
    answer = _json(loadstep, "R-134a", f"{bar_gauge} bar")
    assert _number(answer["dew"]["temperature"]["value"]) == pytest.approx(21.54 + 273.15, abs=0.15)
    assert _number(answer["dew"]["pressure_absolute"]["value"]) == pytest.approx(6e5)
    assert _number(answer["dew"]["pressure_gauge"]["value"]) == pytest.approx(bar_gauge * 1e5)


def test_absolute_is_not_gauge(loadstep: Run) -> None:
    gauge, absolute = _json(loadstep, "R-134a", "40 psi"), _json(loadstep, "R-134a", "40 psia")
    gap = _number(gauge["dew"]["pressure_absolute"]["value"]) - _number(
        absolute["dew"]["pressure_absolute"]["value"]
    )
    assert gap == pytest.approx(101325)


def test_elevation_lowers_the_atmosphere(loadstep: Run) -> None:
    # ASHRAE Fundamentals 2017 ch. 1 table 1: 79 495 Pa at 2000 m.
    answer = _json(loadstep, "R-134a", "20 degC", "--elevation", "2000 m")
    air = answer["atmosphere"]
    assert _number(air["value"]) == pytest.approx(79495, abs=5)
    point = answer["dew"]
    gap = _number(point["pressure_absolute"]["value"]) - _number(point["pressure_gauge"]["value"])
    assert gap == pytest.approx(_number(air["value"]))


def test_text_says_dew_and_bubble_gauge_and_absolute(loadstep: Run) -> None:
    done = loadstep("r134A", "-10degC")
    lines = done.stdout.splitlines()
    assert done.returncode == 0
    assert lines[0] == "R-134a at -10 degC"
    assert [line.split()[0] for line in lines[1:3]] == ["dew", "bubble"]
    for line in lines[1:3]:
        assert "14 degF" in line
        assert "gauge" in line
        assert "29.1 psia" in line  # 200.6 kPa
    assert "14.7 psia" in lines[3]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["R-134b", "40 psi"], "did you mean R-134a?"),
        (["water", "40 psi"], "known are R-134a, R-1234yf, R-152a, R-744"),
        (["R-134a", "40"], "needs its unit"),
        (["R-134a", "1,234.5 psi"], "1,234.5"),
        (["R-134a", "1e3 psi"], "1e3"),
        (["R-134a", "nan psi"], "nan"),
        (["R-134a", "10 ohm"], "neither a pressure nor a temperature"),
        (["R-134a", ""], ""),
        (["R-134a", "-60 psi"], "perfect vacuum"),
        (["R-134a", "-300 degC"], "absolute zero"),
        (["R-744", "40 degC"], "critical temperature, 31 degC"),
        (["R-744", "104 degF"], "critical temperature, 87.8 degF"),
        (["R-134a", "45 bar"], "critical pressure, 39.58 bar gauge"),
        (["R-134a", "45 bara"], "critical pressure, 40.593 bara absolute"),
        (["R-744", "-70 degC"], "triple point's temperature, -56.6 degC"),
        (["R-134a", "10 degC", "--elevation", "20000 m"], "--elevation"),
        (["R-134a", "10 degC", "--elevation", "20 psi"], "--elevation"),
        (["R-134a"], "VALUE"),
    ],
)
def test_refused_with_one_sentence(loadstep: Run, words: list[str], said: str) -> None:
    done = loadstep(*words)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert done.stderr.count("\n") == 1
    assert "Traceback" not in done.stderr


def test_control_codes_do_not_come_back(loadstep: Run) -> None:
    done = loadstep("\x1b[31mR\x07", "40 psi\x1b]0;x\x07")
    assert done.returncode == 2
    assert "\x1b" not in done.stderr
    assert "\x07" not in done.stderr


def test_it_knows_every_refrigerant_the_flows_can_name() -> None:
    assert set(FLUIDS) == set(REFRIGERANTS)
