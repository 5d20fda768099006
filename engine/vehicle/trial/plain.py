"""A trial as the one JSON object that `loadstep trial --json` prints; `schema.json` describes it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from importlib.resources import files
from typing import Any

from engine.vehicle.trial.calibration import Calibration
from engine.vehicle.trial.case import Fault, Range
from engine.vehicle.trial.cost import Cost
from engine.vehicle.trial.outcome import Outcome
from engine.vehicle.trial.plan import Plan
from engine.vehicle.trial.score import Score
from engine.vehicle.trial.tally import Costs, FaultScore, FleetTally, SeverityBin
from engine.vehicle.trial.together import PairScore
from engine.vehicle.trial.traffic import Traffic
from engine.vehicle.trial.worst import Worst
from engine.version import program_version

FORMAT = 1


def json_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that the object meets."""
    text = files(__package__).joinpath("schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def to_plain(plan: Plan, tallies: Sequence[FleetTally]) -> dict[str, Any]:
    """The object; shares are 0..1, temperatures kelvin, and None stands where nothing was counted."""
    return {
        "format": FORMAT,
        "version": program_version(),
        "flow": plan.flow.name,
        "revision": plan.flow.revision,
        "flow_hash": plan.flow.hash,
        "stopped": any(one.stopped for one in tallies) or len(tallies) < len(plan.fleets),
        "options": _options(plan),
        "fleets": [fleet_to_plain(one) for one in tallies],
    }


def _options(plan: Plan) -> dict[str, Any]:
    return {
        "vehicles": plan.vehicles,
        "seed": plan.seed,
        "faults": list(plan.named),
        "severity": _range(plan.severity),
        "ambient": plan.ambient and _range(plan.ambient),
        "refrigerant": plan.refrigerant,
        "pairs": plan.pairs,
        "skipped_readings": plan.skipped,
        "fleets": list(plan.fleets),
    }


def _range(given: Range) -> list[float]:
    return [given.low, given.high]


def fleet_to_plain(tally: FleetTally) -> dict[str, Any]:
    return {
        "fleet": tally.fleet,
        "overall": _score(tally.overall),
        "faulty": _score(tally.faulty),
        "healthy": _score(tally.healthy),
        "severities": _bins(tally.bins),
        "faults": [_fault_score(one) for one in tally.faults],
        "confusion": [
            {"truth": truth, "told": told, "vehicles": count}
            for (truth, told), count in sorted(tally.confusion.items())
        ],
        "needless_second": tally.needless_second,
        "costs": tally.costs and _costs(tally.costs),
        "traffic": _traffic(tally.traffic),
        "never_reached": list(tally.never_reached),
        "never_taken": [{"step": step, "when": when} for step, when in tally.never_taken],
        "calibration": _calibration(tally.calibration),
        "rivals": [
            {
                "rivals": list(one.rivals),
                "vehicles": one.vehicles,
                "singly": one.singly,
                "as_pair": one.as_pair,
            }
            for one in tally.rivals
        ],
        "pairs": tally.pairs and _pairs(tally.pairs),
        "worst": [_worst(one) for one in tally.worst],
    }


def _score(score: Score) -> dict[str, Any]:
    counted = {str(outcome): score.outcomes[outcome] for outcome in Outcome}
    return {"vehicles": score.vehicles, **counted, "first_two": score.first_two}


def _bins(bins: Iterable[SeverityBin]) -> list[dict[str, Any]]:
    return [
        {
            "severity": None
            if one.low is None or one.high is None
            else [round(one.low, 6), round(one.high, 6)],
            **_score(one.score),
        }
        for one in bins
    ]


def _fault_score(fault: FaultScore) -> dict[str, Any]:
    return {"finding": fault.finding, **_score(fault.score), "severities": _bins(fault.bins)}


def _costs(costs: Costs) -> dict[str, Any]:
    return {
        "mean": _cost(costs.mean),
        "walked_twice": costs.twice,
        "as_asked": _cost(costs.of_twice),
        "everything": _cost(costs.of_everything),
        "saved": _cost(costs.saved),
    }


def _cost(cost: Cost) -> dict[str, float]:
    return {"steps": cost.steps, "readings": cost.readings, "minutes": cost.minutes}


def _traffic(traffic: Traffic) -> dict[str, Any]:
    return {
        "steps": [
            {"step": step, "visits": visits, "vehicles": traffic.vehicles[step]}
            for step, visits in traffic.visits.items()
        ],
        "moves": [
            {"from": source, "to": target, "times": times}
            for (source, target), times in traffic.moves.items()
        ],
    }


def _calibration(told: Calibration) -> dict[str, Any]:
    return {
        "brier": told.brier,
        "vehicles": told.vehicles,
        "proved": told.proved,
        "bins": [
            {
                "from": one.low,
                "to": one.high,
                "vehicles": one.vehicles,
                "said": one.said,
                "true": one.came_true,
            }
            for one in told.bins
        ],
    }


def _pairs(pairs: PairScore) -> dict[str, Any]:
    return {
        "free": pairs.free,
        "both_named": pairs.both,
        "stopping": pairs.stopping,
        "stopper_named": pairs.stopper,
        "second_after_repair": pairs.after_repair,
        "first": _score(pairs.first),
    }


def _worst(worst: Worst) -> dict[str, Any]:
    told = worst.result.told
    return {
        "index": worst.result.index,
        "faults": [_fault(fault) for fault in worst.result.faults],
        "about": worst.result.about,
        "outcome": str(worst.outcome),
        "told": told.finding,
        "also": told.also,
        "proved": told.proved,
        "ranked": [{"finding": name, "probability": chance} for name, chance in told.ranked],
        "command": worst.command,
    }


def _fault(fault: Fault) -> dict[str, Any]:
    return {"finding": fault.finding, "severity": fault.severity, "causes": sorted(fault.causes)}
