"""The golden walks and the examples come to the findings they are meant to show."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.job.replay.run import replay_file
from tests.flows.walking import EXAMPLES, Golden, goldens, walked

FINDS = {
    "command_withheld": "command-withheld",
    "commanded_but_weak": "weak-compressor",
    "condenser_fan_slow": "condenser-airflow",
    "cool_day_inconclusive": "inconclusive",
    "expansion_valve_open": "expansion-valve-stuck-open",
    "high_side_limit": "condenser-airflow",
    "hybrid_stop": "high-voltage",
    "liquid_line_restricted": "liquid-restriction",
    "mixed_contents": "contaminated-refrigerant",
    "part_stroke_is_healthy": "normal-part-stroke",
    "solenoid_open": "solenoid-open",
    "stroke_stuck_high": "stroke-valve-stuck-high",
    "stroke_stuck_low": "stroke-valve-stuck-low",
    "two_faults": "undercharge",
    "undercharge_weighed": "undercharge",
}


@pytest.mark.parametrize("golden", goldens(), ids=lambda golden: golden.name)
def test_golden_walk(golden: Golden, tmp_path: Path) -> None:
    conclusion = walked(golden.facts, tmp_path).conclusion
    assert conclusion is not None
    assert conclusion.finding == golden.finding


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.stem)
def test_example(example: Path) -> None:
    conclusion = replay_file(str(example)).walk.conclusion
    assert conclusion is not None
    assert conclusion.finding == FINDS[example.stem]


def test_every_example_is_expected_here() -> None:
    assert {path.stem for path in EXAMPLES} == set(FINDS)


def test_the_second_fault_of_two_is_named() -> None:
    conclusion = replay_file(
        str(next(path for path in EXAMPLES if path.stem == "two_faults"))
    ).walk.conclusion
    assert conclusion is not None
    assert (conclusion.finding, conclusion.also) == ("undercharge", "evaporator-airflow")


def test_the_honest_inconclusive_says_what_to_measure() -> None:
    conclusion = replay_file(
        str(next(path for path in EXAMPLES if path.stem == "cool_day_inconclusive"))
    ).walk.conclusion
    assert conclusion is not None
    assert conclusion.next_measurement is not None


def test_the_limit_interrupts() -> None:
    walk = replay_file(str(next(path for path in EXAMPLES if path.stem == "high_side_limit"))).walk
    assert walk.conclusion is not None
    assert walk.conclusion.interrupted
    assert "full-command" not in {entry.step for entry in walk.trail}


HALF_DUTY = {"low_side": "41 psi", "high_side": "124 psi"}
HEALTHY = {"no-fault", "normal-part-stroke"}


def _same_pressures(command: str, duty: str, tmp_path: Path) -> str:
    """The sound vehicle of the golden walks with the same two pressures in every running set."""
    sound = next(golden for golden in goldens() if golden.name == "sound as it is").facts
    running = {name: {**sound.get(name, {}), **HALF_DUTY} for name in ("baseline", "loaded", "unloaded")}
    for values in running.values():
        values.update(duty=duty, scan_command=command)
    if command == "maximum":
        running["full_command"] = {**HALF_DUTY, "scan_command": command, "duty": duty}
        for values in running.values():
            values["vent_temperature"] = "20 degC"
    conclusion = walked({**sound, **running}, tmp_path).conclusion
    assert conclusion is not None
    return conclusion.finding


def test_the_same_pressures_are_normal_at_half_duty_and_not_at_proved_full_command(tmp_path: Path) -> None:
    """Low side at the top of its range, high side below it (common practice, no published source)."""
    sound = next(golden for golden in goldens() if golden.name == "sound as it is").facts
    half = {**sound, "baseline": {**sound["baseline"], **HALF_DUTY, "duty": "50 percent"}}
    healthy = walked(half, tmp_path).conclusion
    assert healthy is not None
    assert healthy.finding == "normal-part-stroke"
    assert _same_pressures("maximum", "96 percent", tmp_path) not in HEALTHY
