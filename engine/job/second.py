"""A second finding: what the first one explains cannot account for. Two faults at once are ordinary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import log

from engine.flow.model import Flow
from engine.job.weigh import Heard, base_of, log_odds

HEALTHY = "no-fault"
"""The finding that nothing is wrong; those `same_as` it are healthy too."""

SPEAKS = 5.0
"""Odds above which one sign speaks for a second finding. Our choice ("fair"): of the
rules tried on simulated vehicles the one that told a second of two faults most often for the same number of
vehicles told one that was not there."""


def second_finding(
    flow: Flow, heard: Iterable[Heard], first: str, open_findings: Iterable[str]
) -> str | None:
    """The finding beside `first` that what is left over speaks for by more than the `also` odds, or None.

    Left over are the signs that do not speak for `first`. One of them that is true must speak for the second
    clearly, and the product of its odds over all of them is set against that of the healthy finding: what
    stands out from health but is no part of the first fault. A rival of the first is another name for the
    same readings and no second finding. Priors take no part, for what is left over is seen, not guessed.
    Beside a healthy vehicle there is no second finding.
    """
    if base_of(flow, first) == HEALTHY:
        return None
    left = [one for one in heard if one.odds(first) <= 1.0]
    healthy = _log_odds(left, HEALTHY)
    best, most = None, log(flow.limits.also)
    for name in open_findings:
        if name in (first, HEALTHY) or _are_rivals(flow, first, name) or not _speaks(left, name):
            continue
        ahead = _log_odds(left, name) - healthy
        if ahead > most:
            best, most = name, ahead
    return best


def _are_rivals(flow: Flow, one: str, other: str) -> bool:
    return other in flow.findings[one].rivals or one in flow.findings[other].rivals


def _speaks(left: Sequence[Heard], name: str) -> bool:
    return any(one.true and one.odds(name) > SPEAKS for one in left)


def _log_odds(heard: Iterable[Heard], finding: str) -> float:
    return sum(log_odds(one.odds(finding)) for one in heard)
