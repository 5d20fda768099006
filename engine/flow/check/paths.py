"""All checks along the paths of a flow, run once its steps and their targets are all there."""

from __future__ import annotations

from engine.flow.assemble.sections import Sections
from engine.flow.check.asked import check_asked
from engine.flow.check.checking import Check, Checking
from engine.flow.check.closing import check_closing, check_ends
from engine.flow.check.loops import check_loops
from engine.flow.check.reach import check_reach
from engine.flow.check.sets import check_sets
from engine.flow.check.watching import check_resume, check_watch
from engine.flow.check.weighed import check_spoken, check_told
from engine.flow.model import RESUME, Flow

CHECKS: tuple[Check, ...] = (
    check_reach,
    check_loops,
    check_ends,
    check_closing,
    check_watch,
    check_resume,
    check_sets,
    check_asked,
    check_spoken,
    check_told,
)


def check_paths(flow: Flow, sections: Sections) -> None:
    """Notes what is wrong along the paths; nothing while a step is missing, it would only be guessed at."""
    checking = Checking(flow, sections)
    if not sections.whole or sections.broken["steps"] or sections.broken["watch"]:
        return
    known = {*flow.steps, RESUME}
    targets = {edge.target for edges in checking.edges.values() for edge in edges}
    targets |= {target for watch in flow.watch for target in (watch.go, watch.again) if target}
    if flow.start not in flow.steps or not targets <= known:
        return
    for check in CHECKS:
        check(checking)
