"""Fitting all odds together, against what can be worked out by hand."""

from dataclasses import replace
from math import log

import numpy as np
import pytest

from engine.flow.model import Flow
from engine.vehicle.trial.job import Keep, Result
from engine.vehicle.trial.plan import FIRST_TRAINING_SEED, Plan
from engine.vehicle.trial.run import run
from engine.vehicle.trial.weights.fit import _objective, fit
from engine.vehicle.trial.weights.proposal import TooFew, propose, yaml_lines
from engine.vehicle.trial.weights.samples import samples
from engine.vehicle.trial.weights.table import LARGEST, rounded, table_of, with_weights
from tests.engine.job.little import finding, flow, is_, sign
from tests.engine.vehicle.trial.made import WORN, result, said
from tests.engine.vehicle.trial.yard import Yard, yard_flow

ALMOST_NONE = 1e-6
"""A penalty that lets the vehicles alone decide."""


def _flow(*odds: tuple[float, float]) -> Flow:
    """As many signs as odds, each weighing for `worn` only."""
    signs = tuple(sign(f"s{n}", is_("turns", "yes"), worn=pair) for n, pair in enumerate(odds))
    return flow(signs=signs, findings=(finding("no-fault", 8.0), finding("worn", 3.0)))


def _vehicles(*counts: tuple[bytes, int, int]) -> list[Result]:
    """For each state of the signs: how many worn and how many healthy vehicles have it."""
    told = said("no-fault", ("no-fault", 0.9))
    return [
        result(0, faults, told, signs=state)
        for state, worn, healthy in counts
        for faults, count in (((WORN,), worn), ((), healthy))
        for _ in range(count)
    ]


def _fitted(given: Flow, results: list[Result], penalty: float = ALMOST_NONE) -> np.ndarray:  # type: ignore[type-arg]
    table = table_of(given)
    return fit(table, samples(results, table.findings), penalty)[:, 1]


def test_one_sign_alone_gets_the_counted_likelihood_ratio() -> None:
    """True in 30 of 40 worn and 10 of 80 healthy: odds 6 if true; 10 of 40 and 70 of 80: 2/7 if false."""
    weights = _fitted(_flow((3.0, 0.5)), _vehicles((b"\1", 30, 10), (b"\0", 10, 70)))
    assert np.exp(weights) == pytest.approx([6.0, 2 / 7], rel=1e-2)


def test_the_flow_s_priors_take_no_part() -> None:
    """Odds are what the trial's shares leave to them, so that they hold under any prior."""
    alike = _vehicles((b"\1", 30, 10), (b"\0", 10, 70))
    rare = flow(
        signs=tuple(_flow((3.0, 0.5)).signs.values()),
        findings=(finding("no-fault", 500.0), finding("worn", 0.1)),
    )
    assert _fitted(rare, alike) == pytest.approx(_fitted(_flow((3.0, 0.5)), alike))


def test_signs_that_always_come_together_share_what_one_would_get() -> None:
    """Counted each by itself both would get 6, and 36 together; fitted together they make 6."""
    twins = _vehicles((b"\1\1", 30, 10), (b"\0\0", 10, 70))
    weights = _fitted(_flow((3.0, 0.5), (3.0, 0.5)), twins, 1e-4)
    assert np.exp(weights[0] + weights[2]) == pytest.approx(6.0, rel=1e-2)
    assert weights[0] == pytest.approx(weights[2], abs=0.01)


def test_no_weight_changes_its_declared_direction() -> None:
    against = _vehicles((b"\1", 10, 70), (b"\0", 30, 10))
    assert _fitted(_flow((3.0, 0.5)), against) == pytest.approx([0.0, 0.0])
    assert np.exp(_fitted(_flow((0.5, 3.0)), against)) == pytest.approx([2 / 7, 6.0], rel=1e-2)


def test_odds_of_one_and_of_zero_stay() -> None:
    given = _flow((3.0, 1.0), (0.0, 1.0))
    table = table_of(given)
    data = samples(_vehicles((b"\1\0", 30, 10), (b"\0\1", 10, 70)), table.findings)
    written = with_weights(given, table, fit(table, data, ALMOST_NONE))
    assert written.signs["s0"].weighs["worn"][1] == 1.0
    assert written.signs["s1"].weighs["worn"] == (0.0, 1.0)


def test_an_unknown_sign_says_nothing() -> None:
    with_unknown = _vehicles((b"\1", 30, 10), (b"\0", 10, 70), (b"\2", 40, 80))
    weights = _fitted(_flow((3.0, 0.5)), with_unknown)
    assert np.exp(weights) == pytest.approx([6.0, 2 / 7], rel=1e-2)


def test_a_heavy_penalty_keeps_what_was_reasoned() -> None:
    weights = _fitted(_flow((3.0, 0.5)), _vehicles((b"\1", 30, 10), (b"\0", 10, 70)), 1e6)
    assert weights == pytest.approx([log(3.0), log(0.5)], abs=1e-3)


def test_the_gradient_is_that_of_the_objective() -> None:
    given = _flow((3.0, 0.5), (2.0, 0.8))
    table = table_of(given)
    data = samples(_vehicles((b"\1\0", 5, 2), (b"\0\1", 2, 6), (b"\1\2", 3, 1)), table.findings)
    at = table.weights + 0.3
    _, slope = _objective(at, table, data, 2.0)
    for row in range(at.shape[0]):
        up, down = at.copy(), at.copy()
        up[row, 1] += 1e-5
        down[row, 1] -= 1e-5
        numeric = (_objective(up, table, data, 2.0)[0] - _objective(down, table, data, 2.0)[0]) / 2e-5
        assert slope[row, 1] == pytest.approx(numeric, rel=1e-4, abs=1e-6)


def test_vehicles_that_tell_nothing_are_left_out() -> None:
    told = said("no-fault", ("no-fault", 0.9))
    used = samples(
        [
            result(0, (WORN,), told, signs=b"\1"),
            result(1, (WORN,), told, signs=b"\1", ruled_out=frozenset({"worn"})),
            result(2, (WORN,), said("worn", proved=True), signs=b"\1"),
            result(3, (WORN, WORN), told, signs=b"\1"),
        ],
        ("no-fault", "worn"),
    )
    assert used.truth == ("worn",)


def test_a_proposal_shows_what_was_counted_and_what_speaks_against_physics() -> None:
    results = _vehicles((b"\1\1", 30, 70), (b"\0\1", 10, 10), (b"\1\2", 5, 0))
    proposal = propose(_flow((3.0, 0.5), (2.0, 1.0)), results, fleet="yard", seed=9, penalty=1.0)
    first = proposal.pairs[0]
    assert (first.having.true, first.having.false, first.having.unknown) == (35, 10, 0)
    assert (first.others.true, first.others.false) == (70, 10)
    assert first.proposed[0] < first.now[0]
    lines = list(yaml_lines(proposal))
    assert lines[0].startswith("# Proposed odds")
    assert any(line.startswith("s0: {worn: [") for line in lines)
    assert any("true for 35 of 45, for 70 of 80 of the others" in line for line in lines)
    against = propose(
        _flow((3.0, 0.5)), _vehicles((b"\1", 5, 70), (b"\0", 35, 10)), fleet="y", seed=9, penalty=1.0
    )
    assert against.pairs[0].contradicted
    assert any("AGAINST" in line for line in yaml_lines(against))


def test_new_pairs_only_when_asked_for() -> None:
    silent = flow(
        signs=(sign("s0", is_("turns", "yes"), no_fault=(0.9, 1.0)),),
        findings=(finding("no-fault"), finding("worn")),
    )
    results = _vehicles((b"\1", 30, 10), (b"\0", 10, 70))
    kept = propose(silent, results, fleet="yard", seed=9, penalty=0.1)
    assert [pair.finding for pair in kept.pairs] == ["no-fault"]
    more = propose(silent, results, fleet="yard", seed=9, penalty=0.1, new_pairs=True)
    (new,) = [pair for pair in more.pairs if pair.new]
    assert new.finding == "worn"
    assert new.proposed[0] > 1.5
    assert new.proposed[1] < 0.67


def test_too_few_vehicles_are_refused() -> None:
    with pytest.raises(TooFew):
        propose(_flow((3.0, 0.5)), _vehicles((b"\1", 30, 0)), fleet="yard", seed=9)


def test_fitted_odds_judge_other_vehicles_better_than_bad_ones() -> None:
    """Over the yard, from odds that say next to nothing."""
    known = yard_flow()
    weak = with_weights(known, table_of(known), table_of(known).weights * 0.02)
    training = Plan(weak, Yard(), ("yard",), vehicles=400, seed=FIRST_TRAINING_SEED + 1)
    results = run(training, "yard", 1, Keep(signs=True)).results
    fitted = propose(weak, results, fleet="yard", seed=training.seed).flow

    def right(judged: Flow) -> int:
        told = run(Plan(judged, Yard(), ("yard",), vehicles=400), "yard").results
        return sum(one.told.finding == (one.faults[0].finding if one.faults else "no-fault") for one in told)

    assert right(fitted) > right(weak) + 40


@pytest.mark.parametrize(
    ("odds", "told"), [(12.34, 12.0), (0.2567, 0.26), (137.0, 140.0), (1.0, 1.0), (0.0, 0.0)]
)
def test_odds_are_written_with_two_digits(odds: float, told: float) -> None:
    assert rounded(odds) == pytest.approx(told)


def test_a_reasoned_sign_keeps_its_odds_and_the_others_are_fitted_around_it() -> None:
    """With the first fixed at 3 and 0.5, its twin gets what is left of 6 and 2/7."""
    known = _flow((3.0, 0.5), (3.0, 0.5))
    first = replace(known.signs["s0"], reasoned=True)
    given = replace(known, signs={"s0": first, "s1": known.signs["s1"]})
    weights = _fitted(given, _vehicles((b"\1\1", 30, 10), (b"\0\0", 10, 70)))
    assert np.exp(weights[:2]) == pytest.approx([3.0, 0.5])
    assert np.exp(weights[2:]) == pytest.approx([2.0, 4 / 7], rel=1e-2)


def test_the_steps_of_a_graded_sign_together_stay_within_the_bound() -> None:
    """Each worn vehicle is in the last step and each sound one in the first: no odds would be too large."""
    steps = tuple(
        replace(sign(f"g.{n}", is_("turns", "yes"), worn=(odds, 1.0)), graded="g")
        for n, odds in enumerate((0.2, 1.0, 5.0))
    )
    given = flow(signs=steps, findings=(finding("no-fault", 8.0), finding("worn", 3.0)))
    seen = _vehicles((b"\1\0\0", 0, 4000), (b"\0\1\0", 200, 200), (b"\0\0\1", 4000, 0))
    table = table_of(given)
    weights = fit(table, samples(seen, table.findings), ALMOST_NONE)[0::2, 1]
    assert list(weights) == sorted(weights)
    assert np.abs(weights).max() <= LARGEST + 1e-9
    assert weights[-1] == pytest.approx(LARGEST)


@pytest.mark.parametrize(("directed", "stays_at"), [(frozenset(), log(7.0)), (frozenset({"worn"}), 0.0)])
def test_a_step_nobody_was_in_keeps_its_odds_unless_its_author_gave_a_direction_only(
    directed: frozenset[str], stays_at: float
) -> None:
    steps = tuple(
        replace(sign(f"g.{n}", is_("turns", "yes"), worn=(7.0, 1.0)), graded="g", directed=directed)
        for n in range(2)
    )
    given = flow(signs=steps, findings=(finding("no-fault", 8.0), finding("worn", 3.0)))
    weights = _fitted(given, _vehicles((b"\1\0", 30, 10), (b"\0\0", 10, 70)), penalty=1.0)
    assert weights[2] == pytest.approx(stays_at, abs=1e-3)
