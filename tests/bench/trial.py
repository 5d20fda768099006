"""A flow against its rivals on the same vehicles: `python -m tests.bench.trial [FLOW] [--vehicles N] …`.

Needs the extra `bench` (scikit-learn). Prints shares of right answers, the ratios of the errors, and how
fast. Exit code 1 says that a limit of the issue was passed here and now.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.flow.library import MAIN_FLOW, find
from engine.flow.load import load_flow
from engine.vehicle.trial.draw import FleetDrawer
from engine.vehicle.trial.job import Keep, Result
from engine.vehicle.trial.outcome import Outcome, Told, judge
from engine.vehicle.trial.plan import FIRST_TRAINING_SEED, Plan
from engine.vehicle.trial.run import processors, run
from tests.bench.measure import Line
from tests.bench.rivals import Classifier, asks_all, by_chart

MOST_SECONDS = 60.0  # for 2,000 vehicles on two cores (issue 3, section 6)
CHART_RATIO = 0.2  # the flow's error is at most a fifth of the chart's


@dataclass(frozen=True, slots=True)
class Judged:
    name: str
    outcomes: dict[Outcome, float]

    @property
    def error(self) -> float:
        return 100.0 * (1.0 - self.outcomes[Outcome.CORRECT])

    def __str__(self) -> str:
        told = ", ".join(f"{outcome} {100 * share:.1f} %" for outcome, share in self.outcomes.items())
        return f"     {self.name}: {told}"


def judged(name: str, vehicles: Sequence[Result], calls: Sequence[str]) -> Judged:
    found = [
        judge(one.faults, Told(call, None, False, ())) for one, call in zip(vehicles, calls, strict=True)
    ]
    return Judged(name, {outcome: found.count(outcome) / len(found) for outcome in Outcome})


def compare(plan: Plan, fleet: str, classifier: Classifier, jobs: int) -> list[Line]:
    print(f"fleet {fleet}, {plan.vehicles} vehicles, seed {plan.seed}")
    begun = time.perf_counter()
    walked = run(plan, fleet, jobs, Keep(costs=False)).results
    seconds = time.perf_counter() - begun
    read = run(replace(plan, flow=asks_all(plan.flow)), fleet, jobs, Keep(facts=True, costs=False)).results
    flow = judged("the flow", walked, [one.told.finding for one in walked])
    chart = judged("static chart on baseline gauges", read, [by_chart(one.facts) for one in read])
    trained = judged(classifier.name, read, classifier.calls(read))
    for one in (flow, chart, trained):
        print(one)
    against_chart = Line(
        "error of the flow", flow.error, "%", chart.error, "the chart's", CHART_RATIO, limit_of_ratio=True
    )
    against_trained = Line("error of the flow", flow.error, "%", trained.error, "the classifier's")
    speed = Line(
        f"2,000 vehicles through the flow with {jobs} processes",
        seconds * 2000 / plan.vehicles,
        "s",
        limit=MOST_SECONDS,
    )
    return [against_chart, against_trained, speed]


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("flow", nargs="?", default=MAIN_FLOW)
    parser.add_argument("--vehicles", type=int, default=2000)
    parser.add_argument("--training", type=int, default=4000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--skipped-readings", type=float, default=0.1)
    parser.add_argument("--jobs", type=int, default=processors())
    args = parser.parse_args(argv)
    flow = load_flow(find(args.flow))
    drawer = FleetDrawer(flow.vehicles)
    plan = Plan(
        flow,
        drawer,
        drawer.fleets(),
        vehicles=args.vehicles,
        seed=args.seed,
        skipped=args.skipped_readings,
    )
    training = replace(
        plan, flow=asks_all(plan.flow), vehicles=args.training, seed=FIRST_TRAINING_SEED + args.seed
    )
    seen = run(training, drawer.fleets()[0], args.jobs, Keep(facts=True, costs=False)).results
    classifier = Classifier(plan.flow, seen)
    print(f"classifier: {classifier.name}, trained on {len(seen)} vehicles of fleet {drawer.fleets()[0]}")
    kept = True
    for fleet in drawer.fleets():
        for line in compare(plan, fleet, classifier, args.jobs):
            print(line, flush=True)
            kept = kept and line.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main())
