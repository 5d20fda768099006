"""Signs weighed into probabilities: prior times the product of odds, shared out over the findings.

A sign that cannot be told weighs 1. A finding that is ruled out, or whose prior is 0 (it can only be proved),
takes no part. A finding that is `same_as` another is weighed as that one.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from math import exp, inf, log
from typing import NamedTuple

from engine.flow.model import Facts, Flow, Sign
from engine.job.state import Spoken


class Heard(NamedTuple):
    """A sign that could be told, and whether it is true."""

    sign: Sign
    true: bool

    def odds(self, finding: str) -> float:
        """The factor this sign puts on a finding; 1 if it says nothing about it."""
        return self._of(self.sign.weighs, finding)

    def odds_beside(self, finding: str) -> float:
        """The factor this sign puts on the finding as a second one; 1 if it says nothing about it."""
        return self._of(self.sign.beside, finding)

    def _of(self, column: Mapping[str, tuple[float, float]], finding: str) -> float:
        pair = column.get(finding)
        return 1.0 if pair is None else pair[0 if self.true else 1]

    @property
    def says(self) -> str:
        """What the sign says as it was heard; one that was looked for and not found speaks too."""
        return self.sign.says if self.true else f"not so: {self.sign.says}"


@lru_cache(maxsize=8192)
def log_odds(odds: float) -> float:
    """Natural logarithm of odds; -inf for 0, which no sign can make good again."""
    return log(odds) if odds > 0 else -inf


def heard_of(signs: Iterable[Sign], told: Iterable[bool | None]) -> tuple[Heard, ...]:
    """Those of the signs that could be told; of a graded sign only the step that is true: the others weigh
    nothing."""
    return tuple(
        Heard(sign, truth)
        for sign, truth in zip(signs, told, strict=True)
        if truth or (truth is False and not sign.graded)
    )


def truths(signs: Iterable[Sign], facts: Facts) -> Iterator[bool | None]:
    """Whether each sign is true, None where it cannot be told; steps of one graded sign stand together.

    Those exclude each other and read the same number, so the first that is not false decides for the rest.
    """
    decided, rest = "", None
    for sign in signs:
        if sign.graded and sign.graded == decided:
            yield rest
            continue
        truth = sign.when.evaluate(facts)
        if sign.graded and truth is not False:
            decided, rest = sign.graded, False if truth else None
        yield truth


def base_of(flow: Flow, finding: str) -> str:
    """The finding as which this one is weighed (itself, if it is not `same_as` another)."""
    known = flow.findings.get(finding)
    return known.same_as if known and known.same_as else finding


def weighable(flow: Flow, ruled_out: Collection[str]) -> tuple[str, ...]:
    """Findings that can be ranked: not ruled out, prior above 0, weighed as themselves."""
    return tuple(
        name
        for name, finding in flow.findings.items()
        if finding.same_as is None and finding.prior > 0 and name not in ruled_out
    )


def log_weights(flow: Flow, heard: Iterable[Heard], findings: Iterable[str]) -> dict[str, float]:
    """Natural logarithm of prior times odds for each of the findings; -inf where an odds is 0."""
    weights = {name: log(flow.findings[name].prior) for name in findings}
    for one in heard:
        which = 0 if one.true else 1
        for name, pair in one.sign.weighs.items():
            if name in weights:
                weights[name] += log_odds(pair[which])
    return weights


def shares(weights: Mapping[str, float]) -> dict[str, float]:
    """Log weights as probabilities that add up to 1 (softmax); all alike if every weight is -inf."""
    if not weights:
        return {}
    highest = max(weights.values())
    if highest == -inf:
        return dict.fromkeys(weights, 1.0 / len(weights))
    parts = {name: exp(weight - highest) for name, weight in weights.items()}
    total = sum(parts.values())
    return {name: part / total for name, part in parts.items()}


def posterior(flow: Flow, heard: Iterable[Heard], ruled_out: Collection[str] = ()) -> dict[str, float]:
    """Probability of each finding that can still be ranked; they add up to 1."""
    return shares(log_weights(flow, heard, weighable(flow, ruled_out)))


def alive(
    flow: Flow, heard: Iterable[Heard], ruled_out: Collection[str], findings: Iterable[str]
) -> tuple[str, ...]:
    """Those of `findings` whose probability among all is above the flow's `alive` limit."""
    chances = posterior(flow, heard, ruled_out)
    asked = dict.fromkeys(base_of(flow, name) for name in findings)
    return tuple(name for name in asked if chances.get(name, 0.0) > flow.limits.alive)


def evidence(
    heard: Iterable[Heard], finding: str, odds: Callable[[Heard, str], float] = Heard.odds
) -> tuple[Spoken, ...]:
    """What the signs say about one finding by `odds`, strongest first; a sign of odds 1 says nothing."""
    telling = [
        Spoken(one.sign.name, one.says, factor) for one in heard if (factor := odds(one, finding)) != 1.0
    ]
    return tuple(sorted(telling, key=lambda one: -abs(log_odds(one.odds))))
