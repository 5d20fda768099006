"""All checks along the paths of a flow, run once its steps and their targets are all there."""

from __future__ import annotations

from engine.flow.assemble.sections import FINDINGS, NAMES, WAYS, Sections
from engine.flow.check.asked import check_asked
from engine.flow.check.checking import Check, Checking
from engine.flow.check.closing import check_closing, check_ends
from engine.flow.check.loops import check_loops
from engine.flow.check.reach import check_reach
from engine.flow.check.sets import check_sets
from engine.flow.check.watching import check_resume, check_watch
from engine.flow.check.weighed import check_spoken, check_told
from engine.flow.model import Flow
from engine.flow.problem import Problems

CHECKS: tuple[tuple[Check, frozenset[str]], ...] = (
    (check_reach, frozenset({WAYS})),
    (check_loops, frozenset({WAYS})),
    (check_ends, frozenset({WAYS})),
    (check_closing, frozenset({WAYS})),
    (check_watch, frozenset({WAYS})),
    (check_resume, frozenset({WAYS})),
    (check_sets, frozenset({NAMES})),
    (check_asked, frozenset({WAYS, NAMES})),
    (check_spoken, frozenset({NAMES})),
    (check_told, frozenset({FINDINGS, NAMES})),
)
"""Each check with what must be beyond doubt for it; else it would only repeat a mistake in other words."""


def check_paths(flow: Flow, sections: Sections, problems: Problems) -> None:
    """Notes what is wrong along the paths of a flow whose steps are all there."""
    broken = sections.broken["steps"] or sections.broken["watch"]
    if not sections.whole or broken or flow.start not in flow.steps:
        return
    checking = Checking(flow, sections, problems)
    for check, hangs_on in CHECKS:
        if not hangs_on & sections.doubts:
            check(checking)
