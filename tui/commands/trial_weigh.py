"""`loadstep trial --weigh`: odds proposed for a flow's signs, and what they would change.

With `--pairs` the odds of a second finding, else those of the first.
"""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from engine.flow.everything import asking_everything
from engine.flow.model import Flow
from engine.vehicle.trial.job import Keep, Result
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plain import fleet_to_plain, to_plain
from engine.vehicle.trial.plan import FIRST_TRAINING_SEED, Plan
from engine.vehicle.trial.report_text import head, pair_lines, percent
from engine.vehicle.trial.run import OnDone
from engine.vehicle.trial.run import run as try_all
from engine.vehicle.trial.tally import FleetTally
from engine.vehicle.trial.weights.beside import beside_lines, beside_to_plain, fit_beside
from engine.vehicle.trial.weights.proposal import TooFew, proposal_to_plain, propose, yaml_lines
from tui.commands.exit_codes import STOPPED
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.commands.trial import end, judge, write_page
from tui.commands.trial_progress import progress


@dataclass(frozen=True, slots=True)
class _Proposed:
    """The flow with fitted odds, and these as lines of YAML and as JSON types."""

    flow: Flow
    lines: tuple[str, ...]
    plain: dict[str, Any]


def weigh(args: Namespace, plan: Plan, jobs: int, page: Path | None) -> int:
    """Fit on training seeds of the first fleet, judge both ways on the plan's own vehicles, print both."""
    if find_spec("scipy") is None:
        raise Refusal("--weigh needs SciPy: pip install 'loadstep[weigh]'.")
    trainings = _trainings(plan)
    with progress(plan.vehicles * (len(trainings) + 2 * len(plan.fleets))) as on_done:
        proposed = _proposed(args, plan, trainings, jobs, on_done)
        if proposed is None:
            complain("loadstep: stopped before anything could be fitted.")
            return STOPPED
        now = judge(plan, jobs, on_done)
        then = (
            [] if any(one.stopped for one in now) else judge(replace(plan, flow=proposed.flow), jobs, on_done)
        )
    if page is not None:
        write_page(page, plan, now)
    if args.json:
        told = to_plain(plan, now)
        told["weights"] = {**proposed.plain, "judged": [fleet_to_plain(one) for one in then]}
        say(json.dumps(told, allow_nan=False))
    else:
        for line in (*head(plan), *_before_and_after(now, then), "", *proposed.lines):
            say(line)
    return end(plan, (*now, *then))


def _trainings(plan: Plan) -> tuple[Plan, ...]:
    """The vehicles to learn from.

    First odds are learned with everything asked: a step left out because its findings were out of question is
    no chance event, and would bias them. A second finding is told from what a shop asked on the way to the
    first, so it is learned from that, on pairs and on single faults.
    """
    training = replace(plan, seed=FIRST_TRAINING_SEED + plan.seed)
    if plan.pairs:
        return training, replace(training, pairs=False)
    return (replace(training, flow=asking_everything(plan.flow)),)


def _proposed(
    args: Namespace, plan: Plan, trainings: Sequence[Plan], jobs: int, on_done: OnDone
) -> _Proposed | None:
    """None if it was stopped. Raises Refusal."""
    fleet, seed = plan.fleets[0], trainings[0].seed
    trained: list[Result] = []
    for training in trainings:
        ran = try_all(training, fleet, jobs, Keep(signs=True, costs=False), on_done)
        if ran.stopped:
            return None
        trained.extend(ran.results)
    try:
        if plan.pairs:
            found = fit_beside(plan.flow, trained, new_pairs=args.propose)
            return _Proposed(
                found.flow, tuple(beside_lines(found, fleet, seed)), beside_to_plain(found, fleet, seed)
            )
        proposal = propose(plan.flow, trained, fleet=fleet, seed=seed, new_pairs=args.propose)
    except TooFew as few:
        raise Refusal(f"--weigh: {few}") from None
    return _Proposed(proposal.flow, tuple(yaml_lines(proposal)), proposal_to_plain(proposal))


def _before_and_after(now: Sequence[FleetTally], then: Sequence[FleetTally]) -> Iterator[str]:
    for name, tallies in (("as it is", now), ("with the proposed odds", then)):
        for one in tallies:
            told = ", ".join(
                f"{str(outcome).replace('_', ' ')} {percent(one.overall.share(outcome))}"
                for outcome in Outcome
            )
            yield f"  fleet {one.fleet}, the flow {name}: {told}, first two " + percent(
                one.overall.first_two_share
            )
            yield from pair_lines(one)
