"""Giving an earlier reading anew: which one, and back to where it is asked.

Imported once it is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.flow.model import Value
from engine.job.events import ANSWERED, CANNOT_MEASURE
from engine.job.walk import Walk, carried_here
from tui.plain import one_line
from tui.screens.question import Question
from tui.units import Units
from tui.widgets.figures import told

if TYPE_CHECKING:
    from tui.screens.walk import WalkScreen

MOST_OFFERED = 9
"""As many as there are digits; older ones are come to by taking these back first."""


async def change(screen: WalkScreen) -> None:
    """Ask which reading is to be given anew, take its answer back, and stand where it is asked."""
    walk = screen.session.walk
    names = offered(walk)
    if not names:
        screen.tell("Nothing was read yet.")
        return
    answers = [_line(walk, name, screen.loadstep.units) for name in names]
    sentences = ["It is asked again; the answers given after it stay, as far as they still fit the way."]
    picked = await screen.app.push_screen_wait(
        Question("Which reading is to be given anew?", sentences, answers)
    )
    if picked is not None:
        await screen.record(screen.session.change(names[picked]), typed_again=True)


def offered(walk: Walk) -> list[str]:
    """Full names: what this step takes as known from the flow before, then what was read last."""
    known = list(carried_here(walk, walk.step)) if walk.step is not None else []
    read = [
        walk.flow.full_name(key[0], key[2])
        for key, answer in reversed(tuple(walk.answered.items()))
        if answer.kind in (ANSWERED, CANNOT_MEASURE)
    ]
    return list(dict.fromkeys([*known, *read]))[:MOST_OFFERED]


def _line(walk: Walk, name: str, units: Units) -> str:
    set_name, _, bare = name.rpartition(".")
    reading, state = walk.flow.readings[bare], walk.flow.sets.get(set_name)
    value = _value(walk, name)
    words = {choice.word: choice.label for choice in reading.choices}
    said = "cannot measure" if value is None else told(units, value, reading.kind, words)
    where = f" ({one_line(state.label)})" if state is not None else ""
    return f"{one_line(reading.label)}{where}: {one_line(said)}"


def _value(walk: Walk, name: str) -> Value | None:
    keys = [key for key in walk.answered if walk.flow.full_name(key[0], key[2]) == name]
    return walk.answered[keys[-1]].value if keys else None
