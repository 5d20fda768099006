"""A second finding: what the first one explains cannot account for. Two faults at once are ordinary."""

from __future__ import annotations

from collections.abc import Iterable
from math import log

from engine.flow.model import Flow
from engine.job.weigh import Heard, base_of, log_odds

HEALTHY = "no-fault"
"""The finding that nothing is wrong; those `same_as` it are healthy too."""


def second_finding(
    flow: Flow, heard: Iterable[Heard], first: str, open_findings: Iterable[str]
) -> str | None:
    """The finding beside `first` that what is left over speaks for by more than the `also` odds, or None.

    Left over are the signs that do not speak for `first`. The second must have a true one among them that
    speaks for it, and the product of its odds over all of them is set against that of the healthy finding:
    what stands out from health but is no part of the first fault. Priors take no part, for what is left
    over is seen, not guessed. Beside a healthy vehicle there is no second finding.
    """
    if base_of(flow, first) == HEALTHY:
        return None
    left = [one for one in heard if one.odds(first) <= 1.0]
    best, most = None, log(flow.limits.also)
    for name in open_findings:
        if name in (first, HEALTHY) or not any(one.true and one.odds(name) > 1.0 for one in left):
            continue
        ahead = _log_odds(left, name) - _log_odds(left, HEALTHY)
        if ahead > most:
            best, most = name, ahead
    return best


def _log_odds(heard: Iterable[Heard], finding: str) -> float:
    return sum(log_odds(one.odds(finding)) for one in heard)
