"""Concluding: the candidates ranked, and whether the ranking is a finding.

A ranking is one only if the best candidate is likely enough, far enough ahead, and has at least one sign
speaking for it (or no rival left); if nothing outside the candidates beats it by the flow's `outside` odds;
and if the step may conclude at all (`ranks_only`) and no rule held the best one back.
Everything else is `inconclusive`, with what would part the first two.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import log

from engine.flow.model import INCONCLUSIVE, Flow, Step
from engine.job.facts import Facts
from engine.job.hearing import Hearing, listen
from engine.job.missing import next_measurement
from engine.job.second import second_finding
from engine.job.state import Conclusion, NextMeasurement, Ranked, RuledOut
from engine.job.weigh import Heard, base_of, evidence, log_weights, shares, weighable

MOST_RANKED = 8
"""Candidates kept in a conclusion; below these nothing is worth a reader's time."""


def conclude(
    flow: Flow,
    facts: Facts,
    step: Step,
    ruled_out: Mapping[str, RuledOut],
    held_back: Mapping[str, RuledOut] | None = None,
    *,
    interrupted: bool = False,
    advises: bool = True,
    hearing: Hearing | None = None,
) -> Conclusion:
    """What the concluding step finds, from the facts as they are, and what to measure next if it `advises`.

    What the signs said earlier in the walk (`hearing`) is taken from there where it still holds.

    A step with `proved` needs no ranking: one direct test has decided.
    """
    out = tuple(ruled_out.values())
    if step.proved is not None:
        return Conclusion(step.proved, step.id, proved_by=step.id, ruled_out=out, interrupted=interrupted)
    heard = listen(flow, facts, hearing).heard
    open_findings = weighable(flow, ruled_out)
    weights = log_weights(flow, heard, open_findings)
    candidates = [
        name for name in dict.fromkeys(base_of(flow, one) for one in step.conclude) if name in weights
    ]
    ranked = rank(heard, {name: weights[name] for name in candidates})
    outside = _outside(flow, weights, candidates, ranked)
    settled = outside is None and not step.ranks_only and _is_settled(flow, ranked)
    held = (held_back or {}).get(ranked[0].finding) if settled else None
    settled = settled and held is None
    finding = ranked[0].finding if settled else INCONCLUSIVE
    second = second_finding(flow, heard, finding, open_findings) if settled else None
    return Conclusion(
        told(flow, facts, finding, ruled_out),
        step.id,
        ranked=ranked,
        ruled_out=out,
        also=second.finding if second else None,
        also_for=second.for_ if second else (),
        outside=outside,
        next_measurement=_next(flow, facts, step, ranked, outside) if advises else None,
        interrupted=interrupted,
        held_back=held,
    )


def rank(heard: tuple[Heard, ...], weights: Mapping[str, float]) -> tuple[Ranked, ...]:
    """The most probable findings of `weights` (natural logarithms), best first, with their evidence."""
    chances = shares(weights)
    order = sorted(weights, key=lambda name: -chances[name])
    return tuple(_ranked(heard, name, chances[name]) for name in order[:MOST_RANKED])


def _ranked(heard: tuple[Heard, ...], finding: str, chance: float) -> Ranked:
    spoken = evidence(heard, finding)
    return Ranked(
        finding,
        chance,
        for_=tuple(one for one in spoken if one.odds > 1.0),
        against=tuple(one for one in spoken if one.odds < 1.0),
    )


def _outside(
    flow: Flow, weights: Mapping[str, float], candidates: list[str], ranked: tuple[Ranked, ...]
) -> str | None:
    """The best finding beyond the candidates, if it beats the best of them by the `outside` odds."""
    others = [name for name in weights if name not in candidates]
    if not others or not ranked:
        return None
    best = max(others, key=lambda name: weights[name])
    ahead = weights[best] - weights[ranked[0].finding]
    return best if ahead > log(flow.limits.outside) else None


def _is_settled(flow: Flow, ranked: tuple[Ranked, ...]) -> bool:
    if not ranked:
        return False
    best = ranked[0]
    if len(ranked) == 1:
        return True
    lead = best.probability >= flow.limits.lead * ranked[1].probability
    return best.probability >= flow.limits.settled and lead and bool(best.for_)


def told(flow: Flow, facts: Facts, finding: str, ruled_out: Mapping[str, RuledOut]) -> str:
    """The finding, or the one weighed as it that tells this case better: its `told_when` is true."""
    for name, other in flow.findings.items():
        if other.same_as != finding or other.told_when is None or name in ruled_out:
            continue
        if other.told_when.evaluate(facts):
            return name
    return finding


def _next(
    flow: Flow, facts: Facts, step: Step, ranked: tuple[Ranked, ...], outside: str | None
) -> NextMeasurement | None:
    """What to measure next: it parts the first two, or the first from the finding outside that beats it.

    Where the step names a reading to `measure_first`, that one or none: nothing else may be advised before it
    is known (no charge is recovered whose contents nobody knows).
    """
    names = [one.finding for one in ranked[:2]]
    if outside is not None:
        names = [*names[:1], outside]
    if len(names) < 2:
        return None
    first, second = names
    if step.measure_first is None:
        return next_measurement(flow, facts, first, second)
    known = facts.get(step.measure_first) is not None
    return None if known else NextMeasurement(step.measure_first, (first, second))
