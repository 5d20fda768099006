"""The stops of the main flow at a pressure limit: drawn vehicles reach them, and the walk concludes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random

import pytest

from engine.flow.library import find
from engine.flow.load import load_flow
from engine.flow.model import Flow
from engine.job.walk import Walk, advance, begin
from engine.vehicle.bench import Bench, Measured
from engine.vehicle.faults import injure
from engine.vehicle.fleet import FLEET, FLEETS
from engine.vehicle.technician import JOB_READINGS, Technician

PSI = 6894.757
HOT = (308.15, 315.15)  # 35 to 42 degC


@cache
def main_flow() -> Flow:
    return load_flow(find("stroke_by_load"))


def drawn_bench(finding: str, index: int, labelled: bool | None = None) -> Bench:
    """A vehicle of the hot fleet with that fault at severity 1, or sound; its shop as drawn unless told."""
    faults = [finding] if finding else []
    drawn = FLEET.draw(21, index, faults, HOT)
    injuries = tuple(injure(drawn.vehicle, one, 1.0, Random(index)) for one in faults)
    shop = drawn.shop if labelled is None else replace(drawn.shop, labelled=labelled, service_data=True)
    return Bench(f"limits:{index}", drawn.vehicle, injuries, drawn.weather, shop)


def walked(bench: Bench) -> Walk:
    technician, walk = Technician(bench), begin(main_flow())
    while walk.prompt is not None:
        walk = advance(walk, technician.answer(walk))
    return walk


def steps(walk: Walk) -> list[str]:
    return [entry.step for entry in walk.trail]


def test_a_drawn_hot_car_without_condenser_air_stops_at_its_limit_and_concludes() -> None:
    walks = [walked(drawn_bench("condenser-airflow", index)) for index in range(20)]
    stopped = [walk for walk in walks if "stop-and-cool" in steps(walk)]
    assert stopped
    for walk in stopped:
        assert walk.conclusion is not None
        assert "limit-reached" in steps(walk)
        assert steps(walk)[-1] == "caps-on"


def test_most_of_them_are_named_at_the_stop() -> None:
    """Fan, face and the gap behind it are looked at there; most of the causes show to an eye."""
    walks = [walked(drawn_bench("condenser-airflow", index, labelled=True)) for index in range(20)]
    stopped = [walk for walk in walks if "stop-and-cool" in steps(walk)]
    assert len(stopped) > 10
    named = [walk for walk in stopped if walk.conclusion and walk.conclusion.finding == "condenser-airflow"]
    assert len(named) > 0.6 * len(stopped)


def test_a_starved_low_side_stops_at_its_limit_and_concludes() -> None:
    walks = [walked(drawn_bench("expansion-valve-restricted", index, labelled=True)) for index in range(20)]
    stopped = [walk for walk in walks if "stop-starved" in steps(walk)]
    assert stopped
    assert all(walk.conclusion is not None and "starved" in steps(walk) for walk in stopped)


def test_a_sound_car_is_not_stopped_by_a_labelled_limit() -> None:
    for index in range(20):
        trail = steps(walked(drawn_bench("", index, labelled=True)))
        assert "stop-starved" not in trail
        assert "stop-and-cool" not in trail


def test_a_labelled_limit_lies_under_what_the_control_holds_and_above_a_sound_low_side() -> None:
    for index in range(20):
        bench = drawn_bench("", index, labelled=True)
        high, low = JOB_READINGS["high_side_limit"](bench), JOB_READINGS["low_side_limit"](bench)
        assert isinstance(high, Measured)
        assert isinstance(low, Measured)
        assert 0.95 < high.true / bench.vehicle.controller.back_off_pa < 1.0
        assert 0.0 <= low.true < 8.0 * PSI < bench.state(bench.raised).low_side


@pytest.mark.parametrize("name", list(FLEETS))
def test_part_of_the_shops_know_limits(name: str) -> None:
    """30 % of 200: four standard deviations are 13 %."""
    share = sum(FLEETS[name].draw(2, index).shop.labelled for index in range(200)) / 200
    assert 0.17 < share < 0.43
