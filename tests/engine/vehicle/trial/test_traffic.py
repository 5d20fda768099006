"""Visits and moves of a trial, counted by hand on the yard's small flow."""

import json

from engine.vehicle.trial.job import Keep, walk_through
from engine.vehicle.trial.plain import to_plain
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.run import run
from engine.vehicle.trial.tally import tally
from engine.vehicle.trial.traffic import together, traffic_of
from tests.engine.vehicle.trial.yard import Table, Yard, yard_flow

FLOW = yard_flow()
STANDS = Table({"turns": "no"})
WORN = Table({"turns": "yes", "baseline.low_side": "80", "baseline.high_side": "210", "leaves": "no"})
"""A low side far too high rules nothing out but makes dirt and ice unlikely: the leaves are passed over."""


def test_one_walk() -> None:
    stands = traffic_of(walk_through(FLOW, STANDS))
    assert stands.visits == {"look": 1, "stands": 1}
    assert stands.moves == {("look", "stands"): 1}


def test_a_step_passed_over_is_moved_through_but_not_visited() -> None:
    worn = traffic_of(walk_through(FLOW, WORN))
    assert worn.visits == {"look": 1, "measure": 1, "weigh-up": 1}
    assert worn.moves == {("look", "measure"): 1, ("measure", "leaves"): 1, ("leaves", "weigh-up"): 1}


def test_walks_together_in_the_order_of_the_flow() -> None:
    walked = [traffic_of(walk_through(FLOW, who)) for who in (STANDS, WORN, WORN)]
    told = together(FLOW, walked)
    assert list(told.visits.items()) == [("look", 3), ("stands", 1), ("measure", 2), ("weigh-up", 2)]
    assert told.vehicles == told.visits  # no step here comes twice
    assert list(told.moves)[:2] == [("look", "stands"), ("look", "measure")]
    assert together(FLOW, reversed(walked)) == told


def test_every_move_into_a_step_is_a_visit_or_a_passing_over() -> None:
    """What enters a step leaves it again, but for the start and the ends."""
    plan = Plan(FLOW, Yard(), ("yard",), vehicles=60, skipped=0.2)
    told = tally(plan, run(plan, "yard", 1, Keep())).traffic
    assert told.visits["look"] == 60
    for step in ("measure", "leaves"):
        entered = sum(times for (_, target), times in told.moves.items() if target == step)
        left = sum(times for (source, _), times in told.moves.items() if source == step)
        assert entered == left
        assert told.visits.get(step, 0) <= entered


def test_the_same_seed_gives_the_same_bytes() -> None:
    plan = Plan(FLOW, Yard(), ("yard",), vehicles=30)
    once, again = (
        json.dumps(to_plain(plan, [tally(plan, run(plan, "yard", jobs, Keep()))])) for jobs in (1, 2)
    )
    assert once == again
    assert json.loads(once)["fleets"][0]["traffic"]["steps"][0] == {
        "step": "look",
        "visits": 30,
        "vehicles": 30,
    }
