"""A flow as Mermaid flowchart text, for editors and pages that draw it.

Labels are text from files: everything beyond letters, digits and a few harmless signs is written as a numeric
entity, so that no label can end its quotes, begin a comment or a directive, or be read as Markdown or HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from engine.flow.draw.notes import CAUTION, END, LOAD, LOOP, notes
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import PartRow, Plan, StepRow, WayRow
from engine.flow.draw.ways import RESUMES, WATCHED, said
from engine.flow.draw.wording import Wording, short
from engine.flow.model import RESUME
from engine.flow.suggest import counted

_TOLD = {LOAD, CAUTION, LOOP, END}
_UNSAFE = re.compile(r"[\x00-\x1f!-&*+./:-@\[-`{-\x7f-]")
"""ASCII beyond letters, digits, blank, apostrophe, round brackets and comma."""

_STYLES = (
    "classDef load stroke-width:3px",
    "classDef danger stroke:#c8102e,stroke-width:3px",
    "classDef ends fill:#e8e8e8,stroke:#444444",
    "classDef passed fill:#cfe8e3,stroke:#0a6b5d,stroke-width:3px",
    "classDef here fill:#0a6b5d,stroke:#0a6b5d,color:#ffffff,stroke-width:4px",
    "classDef never stroke-dasharray:4 4",
)


def mermaid_lines(plan: Plan, overlay: Overlay | None = None) -> Iterator[str]:
    """The lines of a flowchart, top down; with an overlay, what was passed is marked and counted."""
    yield "flowchart TD"
    captions = [short(plan.flows[0].title), *([short(overlay.caption)] if overlay else ())]
    yield from (f"%% {escaped(caption)}" for caption in captions)
    wordings = {flow.name: Wording(flow) for flow in plan.flows}
    for row in plan.rows:
        if isinstance(row, StepRow):
            yield f"  {_node(row, wordings[row.flow.name], overlay)}"
        elif isinstance(row, PartRow):
            yield f"%% {escaped(row.title)}"
    yield from _links(plan, overlay)
    yield from (f"  {style}" for style in _STYLES)
    yield from _classes(plan, overlay)


def escaped(text: str) -> str:
    """`text` as a label can hold it.

    >>> escaped('say "on" #1')
    'say #34;on#34; #35;1'
    """
    return _UNSAFE.sub(lambda found: f"#{ord(found[0])};", text)


def _node(row: StepRow, wording: Wording, overlay: Overlay | None) -> str:
    """A step: a rhombus where it only decides, a stadium where the job ends, else a box."""
    step = row.step
    told = [text for text, role in notes(row.flow, step, wording) if role in _TOLD]
    if overlay is not None and not overlay.is_path:
        told.append(counted(overlay.at(row), "visit"))
    elif overlay is not None and overlay.at(row) > 1:
        told.append(f"{overlay.at(row)} times")
    lines = [f"{row.number} {short(step.title) or step.id}", *told]
    label = "<br/>".join(escaped(line) for line in lines)
    if step.is_junction and step.next is not None:
        return f'n{row.number}{{"{label}"}}'
    if step.concludes or step.end:
        return f'n{row.number}(["{label}"])'
    return f'n{row.number}["{label}"]'


def _links(plan: Plan, overlay: Overlay | None) -> Iterator[str]:
    """Every way, dotted for watch rules; those that an overlay shows taken are drawn thick."""
    outside: dict[str, str] = {}
    watching = False
    thick: list[int] = []
    for place, row in enumerate(row for row in plan.rows if isinstance(row, WayRow)):
        if row.way.source.startswith(WATCHED):
            if not watching:
                yield '  watched(["While a set is read"])'
            watching, source, arrow = True, "watched", "-.->"
        else:
            source, arrow = f"n{plan.numbers[row.way.source]}", "-->"
        taken = overlay.along(row) if overlay else None
        target, declared = _target(row.way.target, plan, outside)
        if declared:
            yield f"  {declared}"
        yield f"  {source} {arrow}{_on_link(row, overlay, taken)} {target}"
        if taken:
            thick.append(place)
    if thick:
        yield f"  linkStyle {','.join(map(str, thick))} stroke:#0a6b5d,stroke-width:4px"


def _target(target: str, plan: Plan, outside: dict[str, str]) -> tuple[str, str]:
    """The node a way leads to, and its declaration where it is no step of the flow and not declared yet."""
    if target in plan.numbers:
        return f"n{plan.numbers[target]}", ""
    if target in outside:
        return outside[target], ""
    name = outside[target] = f"out{len(outside) + 1}"
    label = RESUMES if target == RESUME else short(target)
    return name, f'{name}(["{escaped(label)}"])'


def _on_link(row: WayRow, overlay: Overlay | None, taken: int | None) -> str:
    label = said(row.way.reasons)
    if overlay is not None and not overlay.is_path and taken is not None:
        label = f"{label} ({taken:,})" if label else f"({taken:,})"
    return f'|"{escaped(label)}"|' if label else ""


def _classes(plan: Plan, overlay: Overlay | None) -> Iterator[str]:
    by_class: dict[str, list[int]] = {}
    for row in plan.rows:
        if isinstance(row, StepRow):
            by_class.setdefault(_class(row, overlay), []).append(row.number)
    for name, numbers in by_class.items():
        if name:
            yield f"  class {','.join(f'n{number}' for number in numbers)} {name}"


def _class(row: StepRow, overlay: Overlay | None) -> str:
    step, cautions = row.step, row.flow.cautions
    if overlay is not None and overlay.here == step.id:
        return "here"
    if overlay is not None and overlay.at(row):
        return "passed"
    if overlay is not None and not overlay.is_path:
        return "never"
    if any(cautions[id].signal == "DANGER" for id in step.cautions if id in cautions):
        return "danger"
    if step.settle is not None:
        return "load"
    return "ends" if step.concludes or step.end else ""
