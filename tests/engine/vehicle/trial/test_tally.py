"""The figures of one fleet, from results made by hand."""

from collections.abc import Sequence
from dataclasses import replace

import pytest

from engine.vehicle.trial.calibration import calibration
from engine.vehicle.trial.case import Fault
from engine.vehicle.trial.cost import Cost
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.run import Ran
from engine.vehicle.trial.tally import FleetTally, tally
from engine.vehicle.trial.together import pair_score, rival_scores
from engine.vehicle.trial.traffic import Traffic
from tests.engine.vehicle.trial.made import DIRTY, SLIGHTLY_WORN, SNAPPED, WORN, result, said
from tests.engine.vehicle.trial.yard import Yard, yard_flow

FLOW = yard_flow()
PLAN = Plan(FLOW, Yard(), ("yard",), named=("worn",), seed=7, skipped=0.1)


def _tally(results: Sequence[Result]) -> FleetTally:
    return tally(PLAN, Ran("yard", tuple(results), stopped=False))


def test_by_severity_and_by_fault() -> None:
    told = _tally(
        [
            result(0, (), said("no-fault")),
            result(1, (SLIGHTLY_WORN,), said("no-fault")),
            result(2, (WORN,), said("worn")),
            result(3, (SNAPPED,), said("snapped", proved=True)),
            result(4, (Fault("worn", 1.0),), said("worn")),
            result(5, (Fault("worn", 0.6),), said("dirty")),
        ]
    )
    assert [(one.low, one.score.vehicles) for one in told.bins] == [
        (pytest.approx(0.4), 1),
        (pytest.approx(0.6), 1),
        (pytest.approx(0.8), 2),
        (None, 1),
    ]
    assert [fault.finding for fault in told.faults] == ["no-fault", "worn", "snapped"]
    worn = told.faults[1]
    assert (worn.score.vehicles, worn.score.outcomes[Outcome.MISSED]) == (4, 1)
    assert [one.score.outcomes[Outcome.CORRECT] for one in worn.bins] == [0, 0, 2]
    assert told.confusion[("worn", "dirty")] == 1
    assert told.confusion[("worn", "worn")] == 2


def test_costs_are_compared_on_the_same_vehicles() -> None:
    told = _tally(
        [
            result(0, (), said("no-fault"), cost=Cost(2, 4, 3.0), everything=Cost(4, 8, 12.0)),
            result(1, (), said("no-fault"), cost=Cost(4, 6, 5.0)),
        ]
    )
    assert told.costs is not None
    assert told.costs.mean == Cost(3, 5, 4.0)
    assert told.costs.saved == Cost(0.5, 0.5, 0.75)


def test_calibration_weighs_cases_by_prior_over_share() -> None:
    """Two healthy and one worn: priors 8 and 3 make weights 4, 4 and 3."""
    told = calibration(
        FLOW,
        [
            result(0, (), said("no-fault", ("no-fault", 0.85))),
            result(1, (), said("worn", ("worn", 0.85))),
            result(2, (WORN,), said("worn", ("worn", 0.8))),
            result(3, (SNAPPED,), said("snapped", proved=True)),
        ],
    )
    assert (told.vehicles, told.proved) == (3, 1)
    (only,) = told.bins
    assert only.said == pytest.approx((4 * 0.85 + 4 * 0.85 + 3 * 0.8) / 11)
    assert only.came_true == pytest.approx(7 / 11)
    assert told.brier == pytest.approx((4 * 0.15**2 + 4 * 0.85**2 + 3 * 0.2**2) / 11)


def test_rivals_count_singly_and_as_a_pair() -> None:
    over, air = Fault("overcharge", 0.5), Fault("air-in-system", 0.5)
    (only,) = rival_scores(
        [
            result(0, (over,), said("overcharge")),
            result(1, (air,), said("overcharge")),
            result(2, (air,), said("no-fault")),
            result(3, (), said("no-fault")),
        ]
    )
    assert only.rivals == ("overcharge", "air-in-system")
    assert (only.vehicles, only.singly, only.as_pair) == (3, 1, 2)


def test_pairs_by_whether_a_fault_stops_the_procedure() -> None:
    to_its_end, on_the_way = Traffic({"weigh-up": 1}), Traffic({"stands": 1})
    told = pair_score(
        FLOW,
        [
            result(0, (WORN, DIRTY), said("worn", also="dirty"), traffic=to_its_end),
            result(1, (WORN, DIRTY), said("worn"), traffic=to_its_end),
            result(2, (WORN, SNAPPED), said("snapped", proved=True), linked=said("worn"), traffic=on_the_way),
            result(
                3, (WORN, SNAPPED), said("snapped", proved=True), linked=said("dirty"), traffic=on_the_way
            ),
            # the flow missed what one test proves: neither counts for it
            result(4, (WORN, SNAPPED), said("worn"), linked=said("snapped"), traffic=to_its_end),
            # a ranking on the way stopped it: either of the two may have
            result(5, (WORN, DIRTY), said("dirty"), linked=said("worn"), traffic=on_the_way),
        ],
    )
    assert told is not None
    assert (told.free, told.both) == (2, 1)
    assert (told.stopping, told.stopper, told.after_repair) == (4, 3, 2)
    assert told.first.outcomes[Outcome.CORRECT] == 6
    assert pair_score(FLOW, [result(0, (WORN,), said("worn"))]) is None


def test_a_walk_that_the_shop_s_means_ended_was_stopped_by_no_fault() -> None:
    nothing_told = replace(FLOW.steps["nothing-there"], ranks_only=True, conclude=("worn",))
    flow = replace(FLOW, steps={**FLOW.steps, "nothing-there": nothing_told})
    ended = Traffic({"nothing-there": 1})
    told = pair_score(
        flow,
        [
            result(0, (WORN, DIRTY), said("inconclusive"), traffic=ended),
            result(1, (WORN, SNAPPED), said("inconclusive"), traffic=ended),  # one test would have proved it
        ],
    )
    assert told is not None
    assert (told.free, told.both, told.stopping, told.stopper) == (1, 0, 1, 0)


def test_the_worst_comes_first_with_a_command_that_brings_it_back() -> None:
    told = _tally(
        [
            result(0, (WORN,), said("no-fault", ("no-fault", 0.99))),
            result(1, (WORN,), said("dirty", ("dirty", 0.7), ("worn", 0.2))),
            result(2, (WORN,), said("snapped", proved=True)),
            result(3, (WORN,), said("worn", ("worn", 0.9))),
        ]
    )
    assert [one.result.index for one in told.worst] == [2, 1, 0]
    assert told.worst[0].command == (
        "loadstep trial yard --seed 7 --fleet yard --show 2 --severity 0.4..1.0 --fault worn "
        f"--skipped-readings 0.1 --flow-hash {FLOW.hash[:12]}"
    )


def test_what_was_never_reached() -> None:
    told = _tally([])
    assert told.never_reached == tuple(FLOW.steps)
    assert told.never_taken == ()  # goes without saying
    assert told.costs is None
    assert told.calibration.brier is None
