"""A second finding: what the first one explains cannot account for. Two faults at once are ordinary."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import log

from engine.flow.model import Flow
from engine.job.state import Spoken
from engine.job.weigh import Heard, base_of, evidence, log_odds

HEALTHY = "no-fault"
"""The finding that nothing is wrong; those `same_as` it are healthy too."""

SPEAKS, SHOUTS = 5.0, 20.0
"""Odds above which one sign speaks for a second finding, and for one that is a rival of the first ("fair" and
"strong"): a rival is another name for the same readings, unless something else was seen. Our choice, as good
as any other rule tried on simulated vehicles with two faults."""


@dataclass(frozen=True, slots=True)
class Second:
    """A second finding, and the signs that speak for it, strongest first."""

    finding: str
    for_: tuple[Spoken, ...]


def second_finding(
    flow: Flow, heard: Sequence[Heard], first: str, open_findings: Iterable[str]
) -> Second | None:
    """The finding beside `first` that the signs speak for by more than the `also` odds, or None.

    Where signs of the flow have odds `beside` another finding, their product and what the first finding puts
    on the other decide. Where none has, what the first finding leaves over does. Priors take no part, for
    what is left over is seen, not guessed. A healthy vehicle has no second finding.
    """
    if base_of(flow, first) == HEALTHY:
        return None
    others = [name for name in open_findings if name not in (first, HEALTHY)]
    if any(sign.beside for sign in flow.signs.values()):
        odds, spoken_for = Heard.odds_beside, _beside(flow, heard, first, others)
    else:
        heard = [one for one in heard if one.odds(first) <= 1.0]
        odds, spoken_for = Heard.odds, _left_over(flow, heard, first, others)
    if not spoken_for:
        return None
    best = max(spoken_for, key=lambda name: spoken_for[name])
    return Second(best, tuple(one for one in evidence(heard, best, odds) if one.odds > 1.0))


def _beside(flow: Flow, heard: Iterable[Heard], first: str, others: Iterable[str]) -> Mapping[str, float]:
    """Those of `others` that are there too by more than the `also` odds, with the logarithm of their odds.

    They begin with what `first` puts on them: two findings that read alike seldom stand beside each other.
    """
    of_first = flow.beside.get(base_of(flow, first), {})
    totals = {name: log_odds(of_first.get(name, 1.0)) for name in others}
    for one in heard:
        for name in one.sign.beside.keys() & totals.keys():
            totals[name] += log_odds(one.odds_beside(name))
    return {name: total for name, total in totals.items() if total > log(flow.limits.also)}


def _left_over(flow: Flow, left: Sequence[Heard], first: str, others: Iterable[str]) -> Mapping[str, float]:
    """Those of `others` that stand out from health in the signs `left`, with the odds of their clearest sign.

    Left are the signs that do not speak for `first`. One of them that is true must speak for the second
    clearly, and the product of its odds over all of them is set against that of the healthy finding: what
    stands out from health but is no part of the first fault. Of several the one with the clearest sign is
    told.
    """
    least = log(flow.limits.also) + _log_odds(left, HEALTHY)
    return {
        name: clear
        for name in others
        if (clear := _clearest(left, name)) > (SHOUTS if _are_rivals(flow, first, name) else SPEAKS)
        and _log_odds(left, name) > least
    }


def _are_rivals(flow: Flow, one: str, other: str) -> bool:
    return other in flow.findings[one].rivals or one in flow.findings[other].rivals


def _clearest(left: Sequence[Heard], name: str) -> float:
    """The largest odds by which one true sign speaks for the finding."""
    return max((one.odds(name) for one in left if one.true), default=0.0)


def _log_odds(heard: Iterable[Heard], finding: str) -> float:
    return sum(log_odds(one.odds(finding)) for one in heard)
