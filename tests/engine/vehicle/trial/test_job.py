"""One vehicle taken through the little flow."""

from dataclasses import replace

from engine.flow.everything import asking_everything
from engine.flow.library import find
from engine.flow.load import load_flow
from engine.flow.model import Rule
from engine.vehicle.finer import fault_of
from engine.vehicle.trial.case import Ask, Fault
from engine.vehicle.trial.concludable import concludable
from engine.vehicle.trial.cost import cost_of
from engine.vehicle.trial.draw import FleetDrawer
from engine.vehicle.trial.job import Keep, try_vehicle, walk_through
from engine.vehicle.trial.outcome import Outcome, judge
from engine.vehicle.trial.ways import ways_of, ways_taken
from tests.engine.vehicle.trial.yard import Table, Yard, yard_flow

FLOW = yard_flow()
HEALTHY = {"turns": "yes", "baseline.low_side": "38", "baseline.high_side": "210", "leaves": "no"}
STANDS = {"turns": "no"}


def test_what_a_diagnosis_costs() -> None:
    cost = cost_of(walk_through(FLOW, Table(STANDS)))
    assert (cost.steps, cost.readings, cost.minutes) == (1, 1, 0.0)
    worn = HEALTHY | {"baseline.low_side": "70"}
    cost = cost_of(walk_through(FLOW, Table(worn)))  # dirty and frozen are out of the question
    assert (cost.steps, cost.readings, cost.minutes) == (2, 3, 3.0)
    cost = cost_of(walk_through(asking_everything(FLOW), Table(worn)))
    assert (cost.steps, cost.readings, cost.minutes) == (3, 4, 3.0)


def test_a_reading_that_could_not_be_taken_was_tried() -> None:
    without = {name: text for name, text in HEALTHY.items() if name != "turns"}
    assert cost_of(walk_through(asking_everything(FLOW), Table(without))).readings == 4


def test_which_rules_were_taken() -> None:
    rules = {("look", "turns is no"), ("measure", "baseline.high_side <= 50 psi")}
    assert set(ways_of(FLOW)) == rules
    assert ways_taken(walk_through(FLOW, Table(STANDS))) == {("look", "turns is no")}
    assert ways_taken(walk_through(FLOW, Table(HEALTHY))) == frozenset()


def test_a_rule_that_only_holds_a_finding_back_is_taken_too() -> None:
    look = FLOW.steps["look"]
    assert look.next is not None
    when = look.next.rules[0].when
    holding = replace(look.next, rules=(Rule(when, None, because="not seen", hold_back=("worn",)),))
    flow = replace(FLOW, steps={**FLOW.steps, "look": replace(look, next=holding)})
    assert ways_taken(walk_through(flow, Table(STANDS))) == {("look", "turns is no")}
    assert ways_taken(walk_through(flow, Table(HEALTHY))) == frozenset()


def test_a_result_tells_what_was_asked_for() -> None:
    ask = Ask("yard", 1, 3, (Fault("worn", 0.9),))
    full = try_vehicle(FLOW, Yard(), ask, Keep(signs=True, facts=True))
    assert full.told.finding == "worn"
    assert full.traffic.visits.keys() == {"look", "measure", "weigh-up"}  # the leaves were not needed
    assert len(full.signs) == 4
    assert full.signs[0] == 1  # the low side is high
    assert full.signs[2] == 2  # nobody looked for leaves
    assert full.facts["turns"] == "yes"
    assert try_vehicle(FLOW, Yard(), ask, Keep()).facts == {}


def test_after_a_repair_the_linked_job_is_walked() -> None:
    ask = Ask("yard", 1, 3, (Fault("snapped"), Fault("worn", 0.9)))
    both = try_vehicle(FLOW, Yard(), ask, Keep())
    assert both.told.finding == "snapped"
    assert both.linked is not None
    assert both.linked.finding == "worn"
    assert try_vehicle(FLOW, Yard(), Ask("yard", 1, 3, (Fault("snapped"),)), Keep()).linked is None


def test_some_are_walked_twice_to_compare_the_cost() -> None:
    results = [try_vehicle(FLOW, Yard(), Ask("yard", 1, index), Keep()) for index in range(200)]
    twice = [one for one in results if one.everything]
    assert 10 <= len(twice) <= 45  # an eighth
    assert all(one.everything and one.everything.readings >= one.cost.readings for one in twice)
    assert not any(
        try_vehicle(FLOW, Yard(), Ask("yard", 1, one.index), Keep(costs=False)).everything for one in twice
    )


def test_a_name_that_is_weighed_as_another_is_found_by_that_one() -> None:
    flow = load_flow(find("solenoid_circuit"))
    for finding in ("solenoid-supply-lost", "solenoid-coil-to-case"):
        result = try_vehicle(flow, FleetDrawer(), Ask("fleet", 1, 0, (Fault(finding),)), Keep(costs=False))
        assert result.told.finding == fault_of(finding)
        assert judge(result.faults, result.told) is Outcome.CORRECT
    assert "solenoid-coil-to-case" not in concludable(flow)
