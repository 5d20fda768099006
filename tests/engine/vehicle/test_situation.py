"""Outside the envelope there is a plain sentence, inside it an answer."""

from __future__ import annotations

from typing import Any

import pytest

from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE
from engine.vehicle.loop import settle
from engine.vehicle.situation import OutsideEnvelope, Situation


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"ambient_k": 325.0}, "ambient"),
        ({"ambient_k": float("nan")}, "ambient"),
        ({"relative_humidity": 0.05}, "humidity"),
        ({"atmosphere_pa": 60e3}, "air pressure"),
        ({"engine_speed": 5.0}, "engine speed"),
        ({"engine_speed": 70.0}, "engine speed"),
        ({"blower": 1.5}, "blower"),
        ({"intake": "half"}, "intake"),
        ({"command": "middle"}, "scan tool"),
    ],
)
def test_outside_is_told_in_a_sentence(changes: dict[str, Any], word: str) -> None:
    values: dict[str, Any] = {"ambient_k": 298.15} | changes
    with pytest.raises(OutsideEnvelope, match=word):
        settle(reference(), NONE, Situation(**values))


@pytest.mark.parametrize("celsius", [5.0, 48.0])
@pytest.mark.parametrize("humidity", [0.10, 0.95])
@pytest.mark.parametrize("atmosphere", [101325.0, 70108.5])
@pytest.mark.parametrize("per_minute", [700.0, 4000.0])
def test_the_corners_are_inside(
    celsius: float, humidity: float, atmosphere: float, per_minute: float
) -> None:
    state = settle(
        reference(), NONE, Situation(celsius + 273.15, humidity, atmosphere, engine_speed=per_minute / 60.0)
    )
    assert state.running
    assert state.energy_error < 1e-3


def test_below_the_lock_out_is_an_answer_not_an_error() -> None:
    state = settle(reference(), NONE, Situation(270.15))
    assert state.reason == "ambient"
    assert state.duty == 0.0
