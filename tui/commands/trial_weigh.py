"""`loadstep trial --weigh`: odds proposed for a flow's signs, and what they would change."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterator, Sequence
from dataclasses import replace
from importlib.util import find_spec
from pathlib import Path

from engine.vehicle.trial.cost import asking_everything
from engine.vehicle.trial.job import Keep
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plain import fleet_to_plain, to_plain
from engine.vehicle.trial.plan import FIRST_TRAINING_SEED, Plan
from engine.vehicle.trial.report_text import head, percent
from engine.vehicle.trial.run import run as try_all
from engine.vehicle.trial.tally import FleetTally
from engine.vehicle.trial.weights.proposal import TooFew, proposal_to_plain, propose, yaml_lines
from tui.commands.exit_codes import STOPPED
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.commands.trial import end, judge, write_page
from tui.commands.trial_progress import progress


def weigh(args: Namespace, plan: Plan, jobs: int, page: Path | None) -> int:
    """Fit on training seeds of the first fleet, judge both ways on the plan's own vehicles, print both."""
    if plan.pairs:
        raise Refusal("--weigh learns from vehicles with one fault; leave --pairs out.")
    if find_spec("scipy") is None:
        raise Refusal("--weigh needs SciPy: pip install 'loadstep[weigh]'.")
    # a step left out because its findings were out of question is no chance event, and would bias the odds
    training = replace(plan, flow=asking_everything(plan.flow), seed=FIRST_TRAINING_SEED + plan.seed)
    fleet = plan.fleets[0]
    with progress(plan.vehicles * (1 + 2 * len(plan.fleets))) as on_done:
        trained = try_all(training, fleet, jobs, Keep(signs=True, costs=False), on_done)
        if trained.stopped:
            complain("loadstep: stopped before anything could be fitted.")
            return STOPPED
        try:
            proposal = propose(
                plan.flow, trained.results, fleet=fleet, seed=training.seed, new_pairs=args.propose
            )
        except TooFew as few:
            raise Refusal(f"--weigh: {few}") from None
        now = judge(plan, jobs, on_done)
        then = (
            [] if any(one.stopped for one in now) else judge(replace(plan, flow=proposal.flow), jobs, on_done)
        )
    if page is not None:
        write_page(page, plan, now)
    if args.json:
        told = to_plain(plan, now)
        told["weights"] = proposal_to_plain(proposal, [fleet_to_plain(one) for one in then])
        say(json.dumps(told, allow_nan=False))
    else:
        for line in (*head(plan), *_before_and_after(now, then), "", *yaml_lines(proposal)):
            say(line)
    return end(plan, (*now, *then))


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
