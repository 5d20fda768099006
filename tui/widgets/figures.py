"""Numbers in the person's units, split into figure and unit so that a table can name the unit once."""

from __future__ import annotations

from collections.abc import Mapping

from engine.flow.model import Value
from engine.job.compare import DOWN, SAME, UP, Move
from engine.physics.quantity import Kind
from tui.plain import plain
from tui.units import Units

ARROWS = {UP: "↑", DOWN: "↓", SAME: "→"}


def figure(units: Units, si: float, kind: Kind) -> str:
    """The number alone: 41 where the unit is told elsewhere."""
    return units.show(si, kind).split(" ", 1)[0]


def told(units: Units, value: Value, kind: Kind | None, words: Mapping[str, str]) -> str:
    """A value as a person reads it: "41 psi", or the label of a choice, or the labels of several."""
    if isinstance(value, str):
        return plain(words.get(value, value))
    if isinstance(value, frozenset):
        return plain(", ".join(words.get(word, word) for word in sorted(value)))
    return units.show(value, kind) if kind is not None else f"{value:g}"


def arrow(units: Units, move: Move) -> str:
    """The arrow and the size of the change: ↑12. Nothing but the arrow where nothing moved."""
    sign = ARROWS[move.direction]
    return sign if move.direction == SAME else f"{sign}{figure(units, abs(move.by), move.kind)}"
