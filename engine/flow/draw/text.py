"""A flow drawn as lines of text: for a terminal, and with styles for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from engine.flow.draw.cells import Piece, cells, packed, wrapped
from engine.flow.draw.notes import notes
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.plan import BRANCH, ON, Guides, PartRow, Plan, StepRow, WayRow
from engine.flow.draw.ways import said, where_to
from engine.flow.draw.wording import Wording, short
from engine.flow.plain import one_line
from engine.flow.suggest import counted

TITLE, WAY, QUIET, HEAD, MARK, HERE = "title", "way", "quiet", "head", "mark", "here"
"""Roles of text beside those of notes (`engine.flow.draw.notes`)."""

KEY = (
    "Down the page is the trunk, A, B, C are ways aside; → names the step where one goes on, ↺ one that goes "
    "back. ▲ cautions by signal word, ■ endings."
)

WIDTH = 80
_INDENT = 3
_RULE = " ┊ "
"""Parts counts from the drawing, whose lines begin with numbers too."""

_LEAST_TEXT = 24
"""Columns that text keeps however deep its branch lies; deeper ones are no longer indented."""


class Line(NamedTuple):
    """One line as text with roles, none for what is drawn; `step` names the step that begins on it."""

    parts: tuple[Piece, ...]
    step: str = ""

    def __str__(self) -> str:
        return "".join([text for text, _ in self.parts]).rstrip()


def text_lines(plan: Plan, width: int = WIDTH, overlay: Overlay | None = None) -> Iterator[Line]:
    """The drawing in lines of at most `width` columns (not under 20), the flow's title first."""
    drawer = _Drawer(plan, max(width, 20), overlay)
    yield from drawer.head()
    for row in plan.rows:
        if isinstance(row, StepRow):
            yield from drawer.step(row)
        elif isinstance(row, WayRow):
            if row.kind != ON or row.way.reasons:  # of a way that always goes on, the next number says enough
                yield from drawer.way(row)
        else:
            yield from drawer.part(row)


class _Drawer:
    """Draws rows of one plan at one width."""

    def __init__(self, plan: Plan, width: int, overlay: Overlay | None) -> None:
        self._plan, self._width, self._overlay = plan, width, overlay
        self._wordings = {flow.name: Wording(flow) for flow in plan.flows}
        self._gutter = 0 if overlay is None else _gutter_width(overlay)
        self._deepest = max((self._width - self._gutter - _LEAST_TEXT) // _INDENT, 1)

    def head(self) -> Iterator[Line]:
        flow, steps = self._plan.flows[0], len(self._plan.steps)
        for line in wrapped(short(flow.title), self._width):
            yield Line(((line, HEAD),))
        aside = steps - len(self._plan.trunk)
        about = (
            f"{flow.name}, revision {flow.revision}. {counted(steps, 'step')}, "
            f"{aside:,} of them beside the trunk."
        )
        for text in (about, KEY, *([one_line(self._overlay.caption)] if self._overlay else ())):
            for line in wrapped(text, self._width):
                yield Line(((line, QUIET),))
        yield Line(())

    def part(self, row: PartRow) -> Iterator[Line]:
        yield Line(())
        yield Line(((row.title.upper(), HEAD),))
        for line in wrapped(row.about, self._width):
            yield Line(((line, QUIET),))
        yield Line(())

    def step(self, row: StepRow) -> Iterator[Line]:
        lead, number = self._lead(row.guides, row.depth), f"{row.number}  "
        here = self._overlay is not None and self._overlay.here == row.step.id
        role = HERE if here else TITLE
        below = lead + ("   " if row.last else "│  ")
        room = self._room(lead) - len(number)
        first, *rest = wrapped(short(row.step.title) or row.step.id, room)
        yield Line((self._mark_step(row), (lead, ""), (number, MARK), (first, role)), row.step.id)
        for line in rest:
            yield Line((self._no_mark, (below.ljust(len(lead) + len(number)), ""), (line, role)))
        found = notes(row.flow, row.step, self._wordings[row.flow.name])
        for parts in packed(found, self._room(below), cells):
            yield Line((self._no_mark, (below, ""), *parts))

    def way(self, row: WayRow) -> Iterator[Line]:
        lead = self._lead(row.guides, row.depth)
        fork = "│  " if row.kind == ON else "└─ " if row.last else "├─ "
        rest = "   " if row.last else "│  "
        word = f"{row.letter}  " if row.letter else ""
        texts = wrapped(self._way_words(row), self._room(lead) - _INDENT - len(word))
        for place, text in enumerate(texts):
            mark = self._mark_way(row) if place == 0 else self._no_mark
            head = lead + fork if place == 0 else lead + rest
            yield Line((mark, (head, ""), (word if place == 0 else " " * len(word), MARK), (text, WAY)))

    def _way_words(self, row: WayRow) -> str:
        reasons = said(row.way.reasons)
        if row.kind == ON:
            return f"on {reasons}"
        if row.kind == BRANCH:
            return f"{reasons}:" if reasons else "from here:"
        where = where_to(self._plan, row.way)
        return f"{reasons}: {where}" if reasons else where

    # --- margins

    def _lead(self, guides: Guides, depth: int) -> str:
        """What stands left of a row: a line for each branch it lies in that goes on further down."""
        if not depth:
            return ""
        shown = guides[: self._deepest]
        lead = "".join("│  " if goes_on else "   " for goes_on in shown)
        return f"{lead}({depth} deep) " if depth > len(shown) else lead

    def _room(self, lead: str) -> int:
        return self._width - self._gutter - len(lead)

    @property
    def _no_mark(self) -> Piece:
        if self._overlay is None or self._overlay.is_path:
            return (" " * self._gutter, "")
        return (" " * (self._gutter - len(_RULE)) + _RULE, QUIET)

    def _mark_step(self, row: StepRow) -> Piece:
        if self._overlay is None:
            return ("", "")
        visits = self._overlay.at(row)
        if self._overlay.is_path:
            sign = "▸" if self._overlay.here == row.step.id else "✓" if visits else ""
            return (f"{sign}{visits if visits > 1 else ''}".ljust(self._gutter), MARK)
        return self._count(visits)

    def _mark_way(self, row: WayRow) -> Piece:
        taken = self._overlay.along(row) if self._overlay is not None else None
        if self._overlay is None or taken is None:
            return self._no_mark
        if self._overlay.is_path:
            return ("✓".ljust(self._gutter) if taken else " " * self._gutter, MARK)
        return self._count(taken)

    def _count(self, number: int) -> Piece:
        return (f"{number:,}".rjust(self._gutter - len(_RULE)) + _RULE, MARK if number else QUIET)


def _gutter_width(overlay: Overlay) -> int:
    """Room for the largest mark and what parts it from the drawing."""
    most = max((*overlay.visits.values(), *overlay.moves.values()), default=0)
    digits = len(f"{most:,}")
    return (2 if most < 2 else 2 + digits) if overlay.is_path else digits + len(_RULE)


def as_text(lines: Iterable[Line]) -> str:
    """The lines as one text that ends with a line end."""
    return "".join(f"{line}\n" for line in lines)
