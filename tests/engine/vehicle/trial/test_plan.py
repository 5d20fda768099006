"""Which vehicle is drawn as number i."""

from collections import Counter
from typing import Any

import pytest

from engine.vehicle.trial.case import Range
from engine.vehicle.trial.plan import Plan, PlanError
from tests.engine.vehicle.trial.yard import Yard, yard_flow

FLOW = yard_flow()


def _plan(**more: Any) -> Plan:
    return Plan(FLOW, Yard(), ("yard",), **more)


def _names(plan: Plan, of: int) -> list[tuple[str, ...]]:
    return [tuple(fault.finding for fault in plan.ask("yard", index).faults) for index in range(of)]


def test_half_are_healthy_and_the_faults_are_drawn_alike() -> None:
    drawn = Counter(_names(_plan(), 80))
    assert drawn.pop(()) == 40
    assert drawn == {("worn",): 10, ("dirty",): 10, ("frozen",): 10, ("snapped",): 10}


def test_only_what_is_named_is_drawn() -> None:
    assert Counter(_names(_plan(named=("worn",)), 10)) == {("worn",): 10}
    assert Counter(_names(_plan(named=("worn", "no-fault")), 10)) == {("worn",): 5, (): 5}
    assert Counter(_names(_plan(named=("no-fault",)), 10)) == {(): 10}


def test_pairs_are_of_faults_that_can_be_together() -> None:
    pairs = {frozenset(pair) for pair in _names(_plan(pairs=True), 50)}
    assert len(pairs) == 5  # six of four, less dirty with frozen
    assert {"dirty", "frozen"} not in pairs
    assert all("snapped" in pair for pair in _names(_plan(pairs=True, named=("snapped",)), 9))


def test_severities_fill_the_range_and_a_fault_there_or_not_has_none() -> None:
    plan = _plan(named=("worn",), severity=Range(0.6, 0.8))
    severities = [plan.ask("yard", index).faults[0].severity or 0.0 for index in range(300)]
    assert 0.6 <= min(severities) < 0.61
    assert 0.79 < max(severities) <= 0.8
    assert _plan(named=("snapped",)).ask("yard", 0).faults[0].severity is None


def test_faults_there_or_not_stay_out_of_small_severities() -> None:
    small = Range(0.2, 0.4)
    assert ("snapped",) not in _names(_plan(severity=small), 50)
    assert ("snapped",) in _names(_plan(severity=small, named=("snapped",)), 5)


class _Loner(Yard):
    def together(self, one: str, other: str) -> bool:
        return False


def test_a_plan_that_draws_nothing_is_refused() -> None:
    with pytest.raises(PlanError, match="No two of these faults"):
        Plan(FLOW, _Loner(), ("yard",), pairs=True)


def test_a_vehicle_hangs_on_seed_and_number_alone() -> None:
    assert _plan(vehicles=10).ask("yard", 7) == _plan(vehicles=5000).ask("yard", 7)
    one, other = (_plan(seed=seed, named=("worn",)).ask("yard", 3).faults[0].severity for seed in (1, 2))
    assert one != other


def test_what_is_asked_for_reaches_the_drawer() -> None:
    ask = _plan(ambient=Range(290.0, 300.0), refrigerant="R-134a", skipped=0.1, seed=4).ask("yard", 2)
    assert (ask.fleet, ask.seed, ask.index) == ("yard", 4, 2)
    assert (ask.ambient, ask.refrigerant, ask.skipped) == (Range(290.0, 300.0), "R-134a", 0.1)
