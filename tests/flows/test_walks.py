"""The golden walks and the examples come to what they say, and to what they are there to show."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.job.walk import Walk
from tests.flows.walking import EXAMPLES, WALKS, differences, sound_but, walks_of


@pytest.mark.parametrize("file", [WALKS, *EXAMPLES], ids=lambda file: file.stem)
def test_golden_walks_hold(file: Path) -> None:
    assert differences(file) == []


def _example(name: str) -> Walk:
    return next(walk for file in EXAMPLES if file.stem == name for walk in walks_of(file))


def test_the_second_fault_of_two_is_named() -> None:
    conclusion = _example("two_faults").conclusion
    assert conclusion is not None
    assert (conclusion.finding, conclusion.also) == ("undercharge", "evaporator-airflow")


def test_the_honest_inconclusive_says_what_to_measure() -> None:
    conclusion = _example("cool_day_inconclusive").conclusion
    assert conclusion is not None
    assert conclusion.next_measurement is not None


def test_the_limit_interrupts() -> None:
    walk = _example("high_side_limit")
    assert walk.conclusion is not None
    assert walk.conclusion.interrupted
    assert "full-command" not in {entry.step for entry in walk.trail}


HALF_DUTY = {"low_side": "41 psi", "high_side": "124 psi"}
HEALTHY = {"no-fault", "normal-part-stroke"}


def _in_set(name: str, readings: dict[str, str]) -> dict[str, str]:
    return {f"{name}.{reading}": text for reading, text in readings.items()}


def _finding(changes: dict[str, str]) -> str:
    conclusion = sound_but(changes).conclusion
    assert conclusion is not None
    return conclusion.finding


def test_the_same_pressures_are_normal_at_half_duty_and_not_at_proved_full_command() -> None:
    """Low side at the top of its range, high side below it (common practice, no published source)."""
    assert _finding(_in_set("baseline", HALF_DUTY | {"duty": "50 percent"})) == "normal-part-stroke"
    commanded = HALF_DUTY | {"scan_command": "maximum", "duty": "96 percent", "vent_temperature": "20 degC"}
    running = ("baseline", "loaded", "unloaded", "full_command")
    everywhere = {name: text for each in running for name, text in _in_set(each, commanded).items()}
    assert _finding(everywhere) not in HEALTHY
