"""The pool: the same results whatever the number of processes, and no vehicle fails unnamed."""

import pytest

from engine.vehicle.trial.job import Keep
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.run import VehicleError, processors, run
from tests.engine.vehicle.trial.yard import Yard, yard_flow

FLOW = yard_flow()


def test_the_same_whatever_the_number_of_processes() -> None:
    plan = Plan(FLOW, Yard(), ("yard",), vehicles=61, skipped=0.2)
    done: list[int] = []
    alone = run(plan, "yard", 1, Keep(signs=True))
    together = run(plan, "yard", 3, Keep(signs=True), done.append)
    assert alone == together
    assert [result.index for result in together.results] == list(range(61))
    assert sum(done) == 61
    assert not together.stopped


def test_fleets_differ() -> None:
    plan = Plan(FLOW, Yard(), ("yard", "other"), vehicles=20)
    keep = Keep(facts=True)
    assert run(plan, "yard", 1, keep).results != run(plan, "other", 1, keep).results


@pytest.mark.parametrize("jobs", [1, 2])
def test_a_vehicle_that_fails_is_named(jobs: int) -> None:
    plan = Plan(FLOW, Yard(breaks_at=13), ("yard",), vehicles=30, seed=5)
    with pytest.raises(VehicleError, match=r"^vehicle 13 of fleet yard, seed 5: ArithmeticError: made up"):
        run(plan, "yard", jobs)


def test_there_is_a_processor() -> None:
    assert processors() >= 1
