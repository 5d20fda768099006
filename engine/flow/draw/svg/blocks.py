"""Each row of a drawing as a block of SVG: a box for a step, a line with words for a way."""

from __future__ import annotations

from dataclasses import dataclass

from engine.flow.draw.cells import packed
from engine.flow.draw.notes import notes
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import BRANCH, ON, PartRow, Plan, Row, StepRow, WayRow
from engine.flow.draw.svg.shapes import (
    badge,
    box,
    line,
    linked,
    measure,
    tagged_at,
    text_at,
    wrapped,
    written,
)
from engine.flow.draw.ways import said, where_to
from engine.flow.draw.wording import Wording, short
from engine.flow.suggest import counted

LEFT, RIGHT = 40.0, 800.0
INDENT = 30.0
_SPINE = 15.0
"""How far right of a box's edge the line runs that joins its run."""
_NARROWEST = 260.0
DEEPEST = int((RIGHT - LEFT - _NARROWEST) // INDENT)
"""Branches deeper than this one are no longer indented, but say how deep they lie."""

_GAP, _PAD = 6.0, 5.0
TITLE_SIZE, NOTE_SIZE = 13.0, 11.0
_TITLE_LINE, _NOTE_LINE = 17.0, 14.5
_VISITS_ROOM = 90.0


@dataclass(frozen=True, slots=True)
class Block:
    """SVG elements drawn from (0, 0) down to `height`; `keep`: what follows belongs on the same sheet."""

    height: float
    parts: tuple[str, ...]
    keep: bool = False


class Blocks:
    """Makes the blocks of one plan."""

    def __init__(self, plan: Plan, overlay: Overlay | None) -> None:
        self._plan, self._overlay = plan, overlay
        self._wordings = {flow.name: Wording(flow) for flow in plan.flows}

    def of(self, row: Row) -> Block:
        if isinstance(row, StepRow):
            return self._step(row)
        return self._way(row) if isinstance(row, WayRow) else _part(row)

    def _step(self, row: StepRow) -> Block:
        """A box with the number, the title, what is to be told, and the visits of an overlay."""
        left, number = _left(row.depth), str(row.number)
        indent = max(34.0, 12.0 + 9.0 * len(number))
        told, tall = self._told(row, left + indent, _GAP + _PAD + 11)
        height = _GAP + 2 * _PAD + tall
        rounding = 14 if row.step.is_junction else 4
        parts = [
            f'<g id="step-{number}"><title>{written(short(row.step.id))}</title>',
            *_guides(row.guides, height),
            line(left + _SPINE, 0, left + _SPINE, _GAP),
            box(left, _GAP, RIGHT - left, height - _GAP, self._box_kind(row), rounding),
            *badge(left + indent / 2, _GAP + _PAD + 7, number, self._badge_kind(row)),
            *told,
            "</g>",
        ]
        return Block(height, tuple(parts))

    def _told(self, row: StepRow, x: float, y: float) -> tuple[list[str], float]:
        """Everything written in a step's box from (x, y) on, and how tall it is."""
        room = RIGHT - x - _PAD
        visits = self._visits(row)
        words = short(row.step.title) or row.step.id
        title = f"({row.depth} deep) {words}" if row.depth > DEEPEST else words
        titles = wrapped(title, room - (_VISITS_ROOM if visits else 0), TITLE_SIZE, bold=True)
        wording = self._wordings[row.flow.name]
        lines = packed(notes(row.flow, row.step, wording), room, measure(NOTE_SIZE, bold=True))
        below = y + len(titles) * _TITLE_LINE - 2
        parts = text_at(x, y, titles, _TITLE_LINE, "title")
        parts += [tagged_at(x, below + place * _NOTE_LINE, line) for place, line in enumerate(lines)]
        if visits:
            parts += text_at(RIGHT - _PAD, y, [visits], 0, "visits")
        return parts, len(titles) * _TITLE_LINE + len(lines) * _NOTE_LINE

    def _visits(self, row: StepRow) -> str:
        if self._overlay is None:
            return ""
        visits = self._overlay.at(row)
        if not self._overlay.is_path:
            return counted(visits, "visit") if visits else "never"
        here = self._overlay.here == row.step.id
        return "HERE" if here else f"✓ {visits} times" if visits > 1 else "✓" if visits else ""

    def _box_kind(self, row: StepRow) -> str:
        if self._overlay is not None and self._overlay.here == row.step.id:
            return "box here"
        if self._overlay is not None and self._overlay.at(row):
            return "box passed"
        if self._overlay is not None and not self._overlay.is_path:
            return "box never"
        return "box ends" if row.step.concludes or row.step.end else "box"

    def _badge_kind(self, row: StepRow) -> str:
        return "number-passed" if self._overlay is not None and self._overlay.at(row) else "number"

    def _way(self, row: WayRow) -> Block:
        if row.kind == ON:
            return self._on(row)
        left = _left(row.depth)
        spine = left + _SPINE
        x = spine + INDENT
        text_x = x + (16.0 if row.letter else -8.0)
        where = where_to(self._plan, row.way) if row.kind != BRANCH else ""
        told = said(row.way.reasons) + self._count(row)
        reasons = wrapped(told, RIGHT - text_x, NOTE_SIZE) if told else []
        targets = wrapped(where, RIGHT - text_x, NOTE_SIZE, bold=True) if where else []
        height = _GAP + max(len(reasons) + len(targets), 1) * _NOTE_LINE + 5
        middle = _GAP + 8
        parts = [*_guides(row.guides, height), line(spine, 0, spine, middle if row.last else height)]
        parts.append(line(spine, middle, x - (10 if row.letter else 12), middle, self._stroke(row)))
        if row.kind == BRANCH:
            parts.append(line(x, middle, x, height))
        if row.letter:
            parts += badge(x, middle, row.letter, "letter")
        parts += text_at(text_x, middle + 4, reasons, _NOTE_LINE, "way")
        there = text_at(text_x, middle + 4 + len(reasons) * _NOTE_LINE, targets, _NOTE_LINE, "where")
        number = self._plan.numbers.get(row.way.target)
        parts += linked(f"step-{number}", there) if there and number else there
        return Block(height, tuple(parts), keep=row.kind == BRANCH)

    def _on(self, row: WayRow) -> Block:
        """The way that goes on: its line, with words beside it where the step has other ways too."""
        spine = _left(row.depth) + _SPINE
        told = (
            f"on {said(row.way.reasons)}{self._count(row)}" if row.way.reasons else self._count(row).strip()
        )
        texts = wrapped(told, RIGHT - spine - 12, NOTE_SIZE) if told else []
        height = _GAP + len(texts) * _NOTE_LINE if texts else 4.0
        parts = [*_guides(row.guides, height), line(spine, 0, spine, height, self._stroke(row))]
        return Block(height, (*parts, *text_at(spine + 12, 13, texts, _NOTE_LINE, "way")), keep=True)

    def _count(self, row: WayRow) -> str:
        taken = self._overlay.along(row) if self._overlay is not None else None
        if self._overlay is None or taken is None or self._overlay.is_path:
            return ""
        return f" ({counted(taken, 'time')})"

    def _stroke(self, row: WayRow) -> float:
        """Ways that an overlay shows taken are thicker; in traffic the more, the oftener."""
        taken = self._overlay.along(row) if self._overlay is not None else None
        if self._overlay is None or not taken:
            return 1.5
        return (
            4.0
            if self._overlay.vehicles is None
            else 2.0 + 6.0 * min(taken / max(self._overlay.vehicles, 1), 1.0)
        )


def _part(row: PartRow) -> Block:
    parts = text_at(LEFT, 34, [row.title], 0, "head") + text_at(LEFT, 50, [row.about], 0, "note")
    return Block(58, tuple(parts), keep=True)


def _left(depth: int) -> float:
    return LEFT + min(depth, DEEPEST) * INDENT


def _guides(guides: tuple[bool, ...], height: float) -> list[str]:
    """The lines of the runs that this row's branch leaves, past the row."""
    return [
        line(_left(level) + _SPINE, 0, _left(level) + _SPINE, height)
        for level, goes_on in enumerate(guides[:DEEPEST])
        if goes_on
    ]
