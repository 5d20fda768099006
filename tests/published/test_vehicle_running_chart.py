"""The reference car against the one published running chart (shared/references.md 4a; test 23).

R-134a vehicle, model year 2010, generic service manual (maker withheld), taken as gauge: shade, doors shut,
windows and bonnet open, maximum cold, recirculation, maximum blower, idle, 10 min, humidity 50-70 %. One car,
so each range is widened by 15 %.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from engine.vehicle.design import reference
from engine.vehicle.fault_effects import NONE
from engine.vehicle.labelling import labelled
from engine.vehicle.loop import settle
from engine.vehicle.situation import Situation
from engine.vehicle.state import State

CHART_KPA = {  # ambient degC: high side, low side
    25: ((1204, 1471), (171, 209)),
    30: ((1300, 1590), (196, 240)),
    35: ((1500, 1820), (229, 280)),
    40: ((1870, 2285), (292, 357)),
}
WIDENED = 0.15
IDLE = 800.0 / 60.0


def idling(celsius: int) -> State:
    car = labelled(reference())
    weather = Situation(
        celsius + 273.15, 0.6, engine_speed=IDLE, blower=1.0, windows_open=True, settled_s=600.0
    )
    return settle(car, NONE, weather)


@pytest.mark.parametrize("celsius", CHART_KPA)
def test_both_sides_stand_in_the_widened_range(celsius: int) -> None:
    state = idling(celsius)
    for pascal, (low, high) in zip((state.high_side, state.low_side), CHART_KPA[celsius], strict=True):
        assert low * (1 - WIDENED) <= pascal / 1e3 <= high * (1 + WIDENED)


def test_both_sides_and_the_vent_rise_with_the_day() -> None:
    days = [idling(celsius) for celsius in CHART_KPA]
    for cooler, hotter in pairwise(days):
        assert hotter.high_side > cooler.high_side
        assert hotter.low_side > cooler.low_side
        assert hotter.vent_temperature > cooler.vent_temperature
