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
