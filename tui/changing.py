"""Giving an earlier reading anew: which one, and back to where it is asked.

Imported once it is asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from engine.job.events import ANSWERED, CANNOT_MEASURE, Key
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
    keys = offered(walk)
    if not keys:
        screen.tell("Nothing was read yet.")
        return
    answers = [_line(walk, key, screen.loadstep.units) for key in keys]
    sentences = ["It is asked again; the answers given after it stay, as far as they still fit the way."]
    title = "Which reading is to be given anew?"
    picked = await screen.app.push_screen_wait(Question(title, sentences, answers))
    if picked is not None:
        await screen.record(screen.session.change(keys[picked]), typed_again=True)


def offered(walk: Walk) -> list[Key]:
    """What this step takes as known from the flow before, then what was read last."""
    names = carried_here(walk, walk.step) if walk.step is not None else ()
    known = [key for name in names if (key := walk.key_of(name)) is not None]
    read = [key for key, answer in walk.answered.items() if answer.kind in (ANSWERED, CANNOT_MEASURE)]
    return list(dict.fromkeys([*known, *reversed(read)]))[:MOST_OFFERED]


def _line(walk: Walk, key: Key, units: Units) -> str:
    flow = walk.at(key[0]).flow
    set_name, _, bare = flow.full_name(key[0], key[2]).rpartition(".")
    reading, state, value = flow.readings[bare], flow.sets.get(set_name), walk.answered[key].value
    words = {choice.word: choice.label for choice in reading.choices}
    said = "cannot measure" if value is None else told(units, value, reading.kind, words)
    where = f" ({one_line(state.label)})" if state is not None else ""
    return f"{one_line(reading.label)}{where}: {one_line(said)}"
