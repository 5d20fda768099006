"""Flows of the person's own and of shared folders, as lines of the start screen.

A shared folder may be slow to answer, so this is looked up after the screen stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from engine.flow.index import titles
from engine.flow.places import Listed, listed, places
from engine.flow.plain import one_line
from tui.widgets.pick_list import Pick


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """A line: what it says, what it is about, and what the flow is called by."""

    pick: Pick
    about: str
    flow: str


def flows_elsewhere(data_folder: Path) -> list[Elsewhere]:
    """Every flow that is not shipped, by place; it tells where each comes from."""
    shipped = {title.name for title in titles()}
    lines, before = [], ""
    for place in places(data_folder):
        for one in listed(place):
            heading = f"{place.words.upper()} FLOWS"
            pick = Pick(one_line(one.head.title), place.words, heading if heading != before else "")
            lines.append(Elsewhere(pick, _about(one, shipped), one.found.name))
            before = heading
    return lines


def _about(one: Listed, shipped: set[str]) -> str:
    name = one_line(one.found.name)
    told = [one_line(one.head.about), f"Flow {name}, revision {one_line(one.head.revision)}."]
    told.append(f"It is {one.found.place.words}: {one_line(str(one.found.path))}.")
    if one.found.path.stem in shipped:
        told.append("A shipped flow has this name, too; that one is listed by itself.")
    return " ".join(part for part in told if part)
