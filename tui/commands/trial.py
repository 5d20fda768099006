"""`loadstep trial`: try a flow over many simulated vehicles, and print how often it is right."""

from __future__ import annotations

import json
from argparse import Namespace
from collections.abc import Iterable
from pathlib import Path

from engine.vehicle.trial.case import Drawer
from engine.vehicle.trial.job import Keep
from engine.vehicle.trial.plain import to_plain
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.report_text import fleet_lines, head
from engine.vehicle.trial.run import OnDone
from engine.vehicle.trial.run import run as try_all
from engine.vehicle.trial.tally import FleetTally, tally
from tui.commands.exit_codes import GOOD, STOPPED
from tui.commands.output import complain, say
from tui.commands.refusal import Refusal
from tui.commands.trial_options import chosen_jobs, chosen_page, chosen_plan, shown_index
from tui.commands.trial_progress import progress
from tui.sheet_file import SheetFileError, write


def run(args: Namespace, drawer: Drawer | None = None) -> int:
    """`drawer` is where the vehicles come from: the simulated ones unless a test says otherwise."""
    plan = chosen_plan(args, drawer)
    jobs, page, index = chosen_jobs(args), chosen_page(args), shown_index(args)
    if args.propose and not args.weigh:
        raise Refusal("--propose goes with --weigh.")
    if args.flow_hash and not plan.flow.hash.startswith(args.flow_hash):
        complain(f"loadstep: this is not the flow with hash {args.flow_hash}; it may judge otherwise.")
    if index is not None:
        from tui.commands.trial_show import show_job

        return _say_all(line for fleet in plan.fleets for line in show_job(plan, fleet, index))
    if args.weigh:
        from tui.commands.trial_weigh import weigh

        return weigh(args, plan, jobs, page)
    with progress(plan.vehicles * len(plan.fleets)) as on_done:
        tallies = judge(plan, jobs, on_done)
    if page is not None:
        write_page(page, plan, tallies)
    if args.json:
        say(json.dumps(to_plain(plan, tallies), allow_nan=False))
    else:
        _say_all(head(plan))
        for one in tallies:
            _say_all(fleet_lines(one))
    return end(plan, tallies)


def judge(plan: Plan, jobs: int, on_done: OnDone) -> list[FleetTally]:
    """Every fleet of the plan, tried; a stop leaves those after it out."""
    tallies: list[FleetTally] = []
    for fleet in plan.fleets:
        ran = try_all(plan, fleet, jobs, Keep(), on_done)
        tallies.append(tally(plan, ran))
        if ran.stopped:
            break
    return tallies


def end(plan: Plan, tallies: Iterable[FleetTally]) -> int:
    """The exit code; a stop is told, so that nobody takes the figures for the whole."""
    if any(one.stopped for one in tallies):
        complain("loadstep: stopped; the figures are of the vehicles that were done.")
        return STOPPED
    return GOOD


def write_page(page: Path, plan: Plan, tallies: list[FleetTally]) -> None:
    """Raises Refusal."""
    from engine.vehicle.trial.report_html import to_html

    try:
        write(page, to_html(plan, tallies), replace=True)
    except SheetFileError as error:
        raise Refusal(f"--out: {error}") from None
    complain(f"The page is in {page}")


def _say_all(lines: Iterable[str]) -> int:
    for line in lines:
        say(line)
    return GOOD
