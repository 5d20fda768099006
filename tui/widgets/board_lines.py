"""Draws a BoardModel as lines of text for a given width; knows nothing of widgets."""

from __future__ import annotations

from textual.content import Content

from engine.job.compare import (
    CANNOT_MEASURE,
    KNOWN,
    NOT_ASKED,
    NOW,
    SAME,
    BoardModel,
    Cell,
    Column,
    Fact,
    Row,
)
from engine.physics.quantity import Kind
from tui.plain import one_line
from tui.units import Units
from tui.widgets import short
from tui.widgets.board_plan import Drawn, Plan, plan, trimmed
from tui.widgets.figures import arrow, figure, told

EARLIER, LATER = "◂", "▸"
EMPTY = {NOW: "…", CANNOT_MEASURE: "?"}
BAND_STYLES = {"LOW": "bold $text-warning", "HIGH": "bold $text-error", "NORMAL": "$text-success"}
LONGEST_SHORT = 15  # cells; a label longer than that is wrapped
LEAST = 8
FIRST_FACTS = ("ambient_temperature", "relative_humidity", "refrigerant", "identity")


def board_lines(model: BoardModel, units: Units, width: int, first: int | None = None) -> list[Content]:
    """The table; `first` is the leftmost set wanted, None lets the set being taken and its partner show."""
    cells = _drawn_rows(model, units)
    laid = _plan(model, cells, units, width, first)
    if laid.trimmed:
        cells = [[trimmed(cell) for cell in row] for row in cells]
    lines = _header(model, laid)
    for row, drawn in zip(model.rows, cells, strict=True):
        if any(
            row.cells[place].state != NOT_ASKED for place in laid.shown
        ):  # else it tells of hidden sets only
            lines += _row(row, drawn, model.columns, laid, units)
    return [*lines, *_legend(model, laid, width)]


def shown_sets(model: BoardModel, units: Units, width: int, first: int | None = None) -> tuple[int, ...]:
    """Indexes of the sets that `board_lines` shows for the same arguments."""
    return _plan(model, _drawn_rows(model, units), units, width, first).shown


def fact_lines(model: BoardModel, units: Units, width: int) -> list[Content]:
    """The facts of the job, run on in as few lines as they need."""
    return _run_on([_fact(fact, units) for fact in model.facts], width)


def narrow_fact_lines(model: BoardModel, units: Units, width: int) -> tuple[list[Content], list[Content]]:
    """The same for a narrow pane: what no pressure is judged without, and the rest, to go below the table."""
    first = [_fact(fact, units) for fact in model.facts if fact.name in FIRST_FACTS]
    rest = [_fact(fact, units) for fact in model.facts if fact.name not in FIRST_FACTS]
    return _run_on(first, width), _run_on(rest, width)


def _fact(fact: Fact, units: Units) -> Content:
    name = one_line(short.FACTS.get(fact.name, fact.label))
    return Content.assemble((f"{name} " if name else "", "$quiet"), (_fact_value(fact, units), "bold"))


def _fact_value(fact: Fact, units: Units) -> str:
    if fact.value is None:
        return "?"
    if not isinstance(fact.value, float | int):
        return told(units, fact.value, None, {})
    value, _, unit = told(units, fact.value, fact.kind, {}).partition(" ")
    return f"{value} {short.UNITS.get(unit, unit)}".rstrip()


def _run_on(parts: list[Content], width: int) -> list[Content]:
    lines: list[Content] = []
    for part in parts:
        longer = Content.assemble(lines[-1], (" · ", "$quiet"), part) if lines else part
        if lines and longer.cell_length <= width:
            lines[-1] = longer
        else:
            lines.append(part)
    return [piece for line in lines for piece in line.wrap(max(width, LEAST))]


def _drawn_rows(model: BoardModel, units: Units) -> list[list[Drawn]]:
    return [[_drawn(row, cell, units) for cell in row.cells] for row in model.rows]


def _drawn(row: Row, cell: Cell, units: Units) -> Drawn:
    if cell.state != KNOWN or cell.value is None:
        return Drawn(EMPTY.get(cell.state, "–"), style="bold" if cell.state == NOW else "$quiet")
    if row.kind is None or not isinstance(cell.value, float | int):
        return Drawn(told(units, cell.value, row.kind, {}), word=True)
    move = arrow(units, cell.move) if cell.move is not None else ""
    return Drawn(figure(units, cell.value, row.kind), move, (cell.band or "").upper())


def _plan(model: BoardModel, cells: list[list[Drawn]], units: Units, width: int, first: int | None) -> Plan:
    longest = max([_label(row, units, full=True).cell_length for row in model.rows] + [LEAST])
    shortest = max([_label(row, units, full=False).cell_length for row in model.rows] + [LEAST])
    return plan(model, cells, (longest, min(shortest, LONGEST_SHORT)), width, first)


def _label(row: Row, units: Units, full: bool) -> Content:
    unit = units.unit(row.kind) if row.kind not in (None, Kind.NUMBER) else ""
    name = one_line(row.label if full else short.ROWS.get(row.name, row.label))
    style = "italic" if row.computed else ""
    return Content.assemble((name, style), (f" {short.UNITS.get(unit, unit)}" if unit else "", "$quiet"))


def _header(model: BoardModel, laid: Plan) -> list[Content]:
    hidden = len(model.columns) - len(laid.shown)
    corner = f"{EARLIER} {len(laid.shown)} of {len(model.columns)} {LATER}" if hidden else ""
    stacks = [_title(model.columns[place], laid.column) for place in laid.shown]
    lines = []
    for place in range(max((len(stack) for stack in stacks), default=0)):
        head = Content.styled(corner if place == 0 else "", "$quiet")
        below = [stack[place] if place < len(stack) else Content("") for stack in stacks]
        lines.append(_line(head, below, laid))
    return lines


def _title(column: Column, width: int) -> list[Content]:
    style = "bold reverse" if column.current else "bold"
    text = f"▸{one_line(column.label)}" if column.current else one_line(column.label)
    lines = [Content.styled(line.plain.rstrip(), style) for line in Content(text).wrap(width)]
    return [*lines, Content.styled("early", "italic $text-warning")] if column.early else lines


def _row(
    row: Row, cells: list[Drawn], columns: tuple[Column, ...], laid: Plan, units: Units
) -> list[Content]:
    labels = [line.rstrip() for line in _label(row, units, laid.long).wrap(laid.label)]
    band_below = not laid.band and any(cells[place].band for place in laid.shown)
    lines = []
    for line in range(max(len(labels), 2 if band_below else 1)):
        label = labels[line] if line < len(labels) else Content("")
        drawn = [_cell(cells[place], laid, line, columns[place].current) for place in laid.shown]
        lines.append(_line(label, drawn, laid))
    return lines


def _cell(cell: Drawn, laid: Plan, line: int, current: bool) -> Content:
    band = (cell.band, BAND_STYLES.get(cell.band, ""))
    if line == 1 and not laid.band:
        return Content.assemble(" " * max(laid.figure - len(cell.band), 0), band)
    if line:
        return Content("")
    strong = cell.style or ("bold" if current else "")
    parts: list[str | tuple[str, str]] = [(cell.figure.rjust(laid.figure), strong)]
    if laid.arrow and not cell.word:
        parts.append("" if laid.close else " ")
        parts.append((cell.arrow.ljust(laid.arrow), "$quiet" if cell.arrow == "→" else ""))
    if laid.band:
        parts += [" ", band]
    return Content.assemble(*parts)


def _line(label: Content, cells: list[Content], laid: Plan) -> Content:
    parts = [_fit(label, laid.label)]
    for cell in cells:
        parts += [Content(" " * laid.gap), _fit(cell, laid.column)]
    return Content.assemble(*parts)


def _fit(content: Content, width: int) -> Content:
    return content.truncate(width, ellipsis=True, pad=True)


def _legend(model: BoardModel, laid: Plan, width: int) -> list[Content]:
    """What the marks that are really there mean."""
    shown = [model.columns[place] for place in laid.shown]
    cells = [row.cells[place] for row in model.rows for place in laid.shown]
    notes = [f"{one_line(c.label)} ↑↓ from {one_line(c.compared_with)}" for c in shown if c.compared_with]
    notes += ["→ no real change"] if any(c.move and c.move.direction == SAME for c in cells) else []
    notes += ["? cannot measure"] if any(c.state == CANNOT_MEASURE for c in cells) else []
    notes += ["early: before it settled"] if any(column.early for column in shown) else []
    return Content.styled("; ".join(notes), "$quiet").wrap(max(width, LEAST)) if notes else []
