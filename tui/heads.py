"""The two lines on top of the walk screen: which job this is, and where in it one stands."""

from __future__ import annotations

from textual.content import Content

from engine.job.state import HANDED_OVER, RESUMED, WENT
from engine.job.walk import Walk
from tui.plain import one_line
from tui.units import Units


def top_line(walk: Walk, job: str, units: Units, learner: bool, width: int) -> Content:
    """The flow's title, then which job it is, units and learner option as far as there is room."""
    tail = f"  {job} · {units.name}{' · learner' if learner else ''}"
    title = Content.styled(one_line(walk.flow.title), "bold $text-accent")
    room = max(0, width - len(tail))
    if room < 12:
        return title.truncate(width, ellipsis=True)
    title = title.truncate(room, ellipsis=True)
    return Content.assemble(title, " " * max(0, room - title.cell_length), (tail, "$quiet"))


def phase_line(walk: Walk) -> str:
    """`step 12 · Load raised · visit 1`."""
    if walk.prompt is None or walk.step is None:
        return "finished"
    parts = [f"step {step_number(walk)}"]
    if walk.conclusion is not None:
        parts.append("making safe")
    if walk.current_set is not None:
        parts.append(one_line(walk.flow.sets[walk.current_set].label))
    parts.append(f"visit {walk.prompt.visit}")
    return " · ".join(parts)


def step_number(walk: Walk) -> int:
    """How many steps the person has come to: junctions and steps not needed do not count."""
    passed = [
        entry
        for entry in walk.trail
        if entry.how in (WENT, RESUMED, HANDED_OVER) and not walk.flow.steps[entry.step].is_junction
    ]
    return len(passed) + 1
