"""Draws a BoardModel as lines of text for a given width; knows nothing of widgets."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from engine.job.compare import CANNOT_MEASURE, KNOWN, NOW, SAME, BoardModel, Cell, Column, Row
from engine.physics.quantity import Kind
from tui.plain import plain
from tui.units import Units
from tui.widgets.figures import arrow, figure, told

EMPTY = {NOW: "…", CANNOT_MEASURE: "?"}
BAND_STYLES = {"low": "bold $text-warning", "high": "bold $text-error", "normal": "$text-success"}
NARROW_LABEL, WIDE_LABEL = 13, 25
GAP = 2


@dataclass(frozen=True, slots=True)
class Drawn:
    """One cell as text: the figure, the change beside it and the band word."""

    figure: str
    arrow: str
    band: str
    style: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """How the columns are laid out in a width."""

    label: int
    figure: int
    arrow: int
    band: int  # 0: the band word stands on a line of its own
    shown: tuple[int, ...]  # indexes of the columns that fit

    @property
    def column(self) -> int:
        beside = self.arrow + 1 if self.arrow else 0
        return max(self.figure + beside + (self.band + 1 if self.band else 0), 8)


def board_lines(model: BoardModel, units: Units, width: int, first: int | None = None) -> list[Content]:
    """The table; `first` is the leftmost set wanted, None lets the set being taken and its partner show."""
    cells = [[_drawn(row, cell, units) for cell in row.cells] for row in model.rows]
    plan = _plan(model, cells, width, first)
    lines = _header(model, plan)
    for row, drawn in zip(model.rows, cells, strict=True):
        lines += _row(row, drawn, model.columns, plan, units)
    return [*lines, *_legend(model, plan, width)]


def shown_sets(model: BoardModel, units: Units, width: int, first: int | None = None) -> tuple[int, ...]:
    """Indexes of the sets that `board_lines` shows for the same arguments."""
    return _plan(
        model, [[_drawn(row, cell, units) for cell in row.cells] for row in model.rows], width, first
    ).shown


def fact_lines(model: BoardModel, units: Units, width: int) -> list[Content]:
    """The facts of the job, run on in as few lines as they need."""
    parts: list[Content] = []
    for fact in model.facts:
        value = "cannot measure" if fact.value is None else told(units, fact.value, fact.kind, fact.words)
        parts.append(Content.assemble((f"{plain(fact.label)} ", "$quiet"), (value, "bold")))
    if not parts:
        return []
    lines = [parts[0]]
    for part in parts[1:]:
        longer = Content.assemble(lines[-1], (" · ", "$quiet"), part)
        if longer.cell_length <= width:
            lines[-1] = longer
        else:
            lines.append(part)
    return [short for line in lines for short in line.wrap(max(width, 8))]


def _drawn(row: Row, cell: Cell, units: Units) -> Drawn:
    if cell.state != KNOWN or cell.value is None:
        return Drawn(EMPTY.get(cell.state, "–"), "", "", "bold" if cell.state == NOW else "$quiet")
    is_number = isinstance(cell.value, float | int) and row.kind is not None
    text = figure(units, float(cell.value), row.kind) if is_number else told(units, cell.value, None, {})  # type: ignore[arg-type]
    move = arrow(units, cell.move) if cell.move is not None else ""
    return Drawn(text, move, (cell.band or "").upper())


def _plan(model: BoardModel, cells: list[list[Drawn]], width: int, first: int | None) -> Plan:
    flat = [cell for row in cells for cell in row]
    figure_width = max([len(cell.figure) for cell in flat] + [4])
    arrow_width = max([len(cell.arrow) for cell in flat] + [0])
    roomy = Plan(WIDE_LABEL, figure_width, arrow_width, len("NORMAL"), tuple(range(len(model.columns))))
    if first is None and roomy.label + len(model.columns) * (roomy.column + GAP) <= width:
        return roomy
    tight = Plan(NARROW_LABEL, figure_width, arrow_width, 0, ())
    fits = max((width - tight.label) // (tight.column + GAP), 1)
    return Plan(tight.label, figure_width, arrow_width, 0, _window(model.columns, fits, first))


def _window(columns: tuple[Column, ...], fits: int, first: int | None) -> tuple[int, ...]:
    count = len(columns)
    if fits >= count:
        return tuple(range(count))
    if first is not None:
        start = min(first, count - fits)
        return tuple(range(start, start + fits))
    now = next((place for place, column in enumerate(columns) if column.current), count - 1)
    partner = next((p for p, column in enumerate(columns) if column.label == columns[now].compared_with), now)
    near = sorted(range(count), key=lambda place: (place != now, place != partner, abs(place - now), -place))
    return tuple(sorted(near[:fits]))


def _header(model: BoardModel, plan: Plan) -> list[Content]:
    hidden = len(model.columns) - len(plan.shown)
    corner = f"◂ ▸ {len(plan.shown)} of {len(model.columns)}" if hidden else ""
    stacks = [_title(model.columns[place], plan.column) for place in plan.shown]
    tall = max(len(stack) for stack in stacks)
    lines = []
    for place in range(tall):
        parts: list[Content] = [_fit(Content.styled(corner if place == 0 else "", "$quiet"), plan.label)]
        for stack in stacks:
            line = stack[place] if place < len(stack) else Content("")
            parts += [Content(" " * GAP), _fit(line, plan.column)]
        lines.append(Content.assemble(*parts))
    return lines


def _title(column: Column, width: int) -> list[Content]:
    style = "bold reverse" if column.current else "bold"
    text = f"▸{plain(column.label)}" if column.current else plain(column.label)
    lines = [Content.styled(line.plain.rstrip(), style) for line in Content(text).wrap(width)]
    return [*lines, Content.styled("early", "italic $text-warning")] if column.early else lines


def _row(
    row: Row, cells: list[Drawn], columns: tuple[Column, ...], plan: Plan, units: Units
) -> list[Content]:
    unit = units.unit(row.kind) if row.kind not in (None, Kind.NUMBER) else ""
    label = Content.assemble((plain(row.label), "italic" if row.computed else ""), (f" {unit}", "$quiet"))
    labels = [line.rstrip() for line in label.wrap(plan.label)]
    two = not plan.band and any(cells[place].band for place in plan.shown)
    tall = max(len(labels), 2 if two else 1)
    lines = []
    for line in range(tall):
        parts: list[Content] = [_fit(labels[line] if line < len(labels) else Content(""), plan.label)]
        for place in plan.shown:
            drawn = _cell(cells[place], plan, line, columns[place].current)
            parts += [Content(" " * GAP), _fit(drawn, plan.column)]
        lines.append(Content.assemble(*parts))
    return lines


def _cell(cell: Drawn, plan: Plan, line: int, current: bool) -> Content:
    band = (cell.band, BAND_STYLES.get(cell.band.lower(), ""))
    if line == 1 and not plan.band:
        return Content.assemble(" " * max(plan.figure - len(cell.band), 0), band)
    if line:
        return Content("")
    strong = cell.style or ("bold" if current else "")
    still = "$quiet" if cell.arrow == "→" else ""
    parts: list[str | tuple[str, str]] = [(cell.figure.rjust(plan.figure), strong)]
    if plan.arrow:
        parts += [" ", (cell.arrow.ljust(plan.arrow), still)]
    if plan.band:
        parts += [" ", band]
    return Content.assemble(*parts)


def _fit(content: Content, width: int) -> Content:
    return content.truncate(width, ellipsis=True, pad=True)


def _legend(model: BoardModel, plan: Plan, width: int) -> list[Content]:
    shown = [model.columns[place] for place in plan.shown]
    pairs = {column.label: column.compared_with for column in shown if column.compared_with}
    notes = [f"arrows in {plain(label)}: from {plain(other or '')}" for label, other in pairs.items()]
    states = {cell.state for row in model.rows for cell in row.cells}
    notes += ["? cannot measure"] if CANNOT_MEASURE in states else []
    notes += ["early: before the settle time"] if any(column.early for column in shown) else []
    moves = {cell.move.direction for row in model.rows for cell in row.cells if cell.move is not None}
    notes += ["→ no real change"] if SAME in moves else []
    text = Content.styled("; ".join(notes), "$quiet")
    return text.wrap(max(width, 8)) if notes else []
