"""Fitted odds as a proposal for a person to review: beside each, what was counted and how it was declared."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from math import log
from typing import Any

import numpy as np

from engine.flow.model import Flow
from engine.vehicle.trial.job import Result
from engine.vehicle.trial.weights.fit import best_penalty, fit
from engine.vehicle.trial.weights.samples import Samples, samples
from engine.vehicle.trial.weights.table import Table, table_of, with_weights

FEWEST = 20
"""Vehicles of a finding, and odds of 1.25 by count, before they contradict a direction. Our choice."""
_CLEARLY = log(1.25)

REVIEW = "# To be reviewed: a sign that speaks against physics is a bug in the sign, not a weight."
"""Stands over every proposal."""


@dataclass(frozen=True, slots=True)
class Seen:
    """Training vehicles for which a sign was true, false or unknown."""

    true: int
    false: int
    unknown: int

    @property
    def share(self) -> float | None:
        """How often it was true where it could be told (rule of succession), None if it never could."""
        told = self.true + self.false
        return (self.true + 1) / (told + 2) if told else None


@dataclass(frozen=True, slots=True)
class Pair:
    """One sign's odds for one finding, now and proposed (if true, if false), and what was counted.

    `having` are vehicles with the finding, `others` all the rest. `contradicted`: the vehicles speak against
    the direction that the flow declares, so the sign (or the vehicle) is wrong, not its weight.
    """

    sign: str
    finding: str
    now: tuple[float, float]
    proposed: tuple[float, float]
    new: bool
    contradicted: bool
    having: Seen
    others: Seen


@dataclass(frozen=True, slots=True)
class Proposal:
    """Odds for a flow, from which vehicles, and the flow with them."""

    flow: Flow
    fleet: str
    seed: int
    vehicles: int
    penalty: float
    pairs: tuple[Pair, ...]


class TooFew(ValueError):
    """Nothing can be fitted to so few vehicles; the message is a sentence."""


def propose(
    flow: Flow,
    results: Iterable[Result],
    *,
    fleet: str,
    seed: int,
    penalty: float | None = None,
    new_pairs: bool = False,
) -> Proposal:
    """The odds that serve these vehicles best. Raises TooFew."""
    table = table_of(flow, propose=new_pairs)
    given = samples(results, table.findings)
    if len(set(given.truth)) < 2:
        raise TooFew(
            "The vehicles that came to a ranking all have the same finding, or there are none; use more."
        )
    chosen = penalty if penalty is not None else best_penalty(table, given)
    proposed = with_weights(flow, table, fit(table, given, chosen))
    pairs = tuple(_pairs(flow, proposed, table, given))
    return Proposal(proposed, fleet, seed, len(given.truth), chosen, pairs)


def _pairs(flow: Flow, proposed: Flow, table: Table, given: Samples) -> Iterator[Pair]:
    for row, name in enumerate(table.signs):
        for finding, odds in proposed.signs[name].weighs.items():
            now = flow.signs[name].weighs.get(finding)
            having, others = _seen(given, row, finding)
            against = now is not None and _contradicts(now, having, others)
            yield Pair(name, finding, now or (1.0, 1.0), odds, now is None, against, having, others)


def _seen(given: Samples, row: int, finding: str) -> tuple[Seen, Seen]:
    has = np.array([truth == finding for truth in given.truth], dtype=bool)
    return _count(given, row, has), _count(given, row, ~has)


def _count(given: Samples, row: int, among: Any) -> Seen:
    true = int(given.heard[among, 2 * row].sum())
    false = int(given.heard[among, 2 * row + 1].sum())
    return Seen(true, false, int(among.sum()) - true - false)


def _contradicts(now: tuple[float, float], having: Seen, others: Seen) -> bool:
    if having.share is None or others.share is None or having.true + having.false < FEWEST:
        return False
    counted, declared = log(having.share / others.share), (now[0] > 1.0) - (now[0] < 1.0)
    return declared * counted < -_CLEARLY


def yaml_lines(proposal: Proposal) -> Iterator[str]:
    """The proposal as lines for `signs:` of the flow, with what each rests on as comments."""
    yield f"# Proposed odds: fitted together to {proposal.vehicles} simulated vehicles that came to a ranking"
    yield f"# (fleet {proposal.fleet}, training seed {proposal.seed}, penalty {proposal.penalty:g})."
    yield REVIEW
    for sign, pairs in groupby(proposal.pairs, key=lambda pair: pair.sign):
        told = list(pairs)
        if all(pair.now == pair.proposed for pair in told):
            continue
        yield f"{sign}: {{{', '.join(_odds(pair) for pair in told)}}}"
        yield from (f"  # {_counted(pair)}" for pair in told if pair.now != pair.proposed)


def _odds(pair: Pair) -> str:
    true, false = pair.proposed
    return f"{pair.finding}: [{true:g}, {false:g}]"


def _counted(pair: Pair) -> str:
    was = "new" if pair.new else f"was [{pair.now[0]:g}, {pair.now[1]:g}]"
    doubt = "; the vehicles speak AGAINST the declared direction" if pair.contradicted else ""
    return f"{pair.finding}: {was}; true for {_of(pair.having)}, for {_of(pair.others)} of the others{doubt}"


def _of(seen: Seen) -> str:
    told = f"{seen.true} of {seen.true + seen.false}"
    return f"{told} ({seen.unknown} not told)" if seen.unknown else told


def proposal_to_plain(proposal: Proposal) -> dict[str, Any]:
    """The proposal as JSON types."""
    return {
        "training_seed": proposal.seed,
        "training_vehicles": proposal.vehicles,
        "fleet": proposal.fleet,
        "penalty": proposal.penalty,
        "signs": [_pair_to_plain(pair) for pair in proposal.pairs],
    }


def _pair_to_plain(pair: Pair) -> dict[str, Any]:
    return {
        "sign": pair.sign,
        "finding": pair.finding,
        "now": list(pair.now),
        "proposed": list(pair.proposed),
        "new": pair.new,
        "contradicted": pair.contradicted,
        "having": _seen_to_plain(pair.having),
        "others": _seen_to_plain(pair.others),
    }


def _seen_to_plain(seen: Seen) -> dict[str, int]:
    return {"true": seen.true, "false": seen.false, "unknown": seen.unknown}
