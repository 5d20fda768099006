"""Draws a set on the pressure-enthalpy chart: the dome dotted, the cycle solid, the corners numbered."""

from __future__ import annotations

import math
from dataclasses import dataclass

from textual.content import Content

from engine.job.picture import Picture
from engine.physics.cycle import CyclePoint
from engine.physics.quantity import Kind, from_si, to_si
from tui.units import Units
from tui.widgets.axes import linear_marks, log_marks
from tui.widgets.canvas import DOTS_ACROSS, DOTS_DOWN, Canvas

LEAST_WIDTH, LEAST_HEIGHT = 24, 7
"""Below these the picture says nothing; the list of corners says it all."""

LABELLED_WIDTH = 50
"""From this many columns superheat and subcooling are written beside their corners."""

DOME, CYCLE, CORNER, AXIS = "$quiet", "$text-primary", "bold reverse", "$quiet"


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of the chart that is seen, J/kg by Pa absolute, and where it lies on a canvas."""

    left: float
    right: float
    bottom: float
    top: float
    columns: int
    rows: int

    def dot(self, enthalpy: float, pressure: float) -> tuple[float, float]:
        """Dots from the top left; the pressure axis is logarithmic."""
        across = (enthalpy - self.left) / (self.right - self.left)
        up = math.log(pressure / self.bottom) / math.log(self.top / self.bottom)
        return across * (self.columns * DOTS_ACROSS - 1), (1 - up) * (self.rows * DOTS_DOWN - 1)

    def cell(self, enthalpy: float, pressure: float) -> tuple[int, int]:
        """Column and row of the character that holds the dot."""
        x, y = self.dot(enthalpy, pressure)
        return round(x) // DOTS_ACROSS, round(y) // DOTS_DOWN


def chart_lines(picture: Picture, units: Units, width: int, height: int) -> list[Content]:
    """The chart in `width` x `height` cells, axes included; nothing where it would be too small to read."""
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return []
    margin = 6
    frame = _frame(picture, width - margin, height - 3)
    canvas = Canvas(frame.columns, frame.rows)
    _draw_dome(canvas, frame, picture)
    _draw_cycle(canvas, frame, picture)
    _label_corners(canvas, frame, picture, units)
    title = f"{units.unit(Kind.ABSOLUTE_PRESSURE)} (absolute, logarithmic)"
    return [
        Content.styled(title, AXIS),
        *_with_pressures(canvas, frame, units, margin),
        *_enthalpies(frame, margin),
    ]


def corners(picture: Picture) -> list[tuple[str, CyclePoint]]:
    """The corners with their numbers: 1 suction, 2 discharge (2m as measured), 3 condenser, 4 evaporator."""
    numbers = {
        "suction": "1",
        "ideal discharge": "2",
        "measured discharge": "2m",
        "condenser outlet": "3",
        "evaporator inlet": "4",
    }
    return [(numbers[point.name], point) for point in picture.points]


def _frame(picture: Picture, columns: int, rows: int) -> Frame:
    low = min(point.pressure for point in picture.points)
    enthalpies = [h for h, _ in picture.dome] + [point.enthalpy for point in picture.points]
    room = 0.04 * (max(enthalpies) - min(enthalpies))
    top = max(p for _, p in picture.dome) * 1.25
    return Frame(min(enthalpies) - room, max(enthalpies) + room, min(low * 0.6, 1e5), top, columns, rows)


def _draw_dome(canvas: Canvas, frame: Frame, picture: Picture) -> None:
    for (h0, p0), (h1, p1) in zip(picture.dome, picture.dome[1:], strict=False):
        start, end = frame.dot(h0, p0), frame.dot(h1, p1)
        canvas.line(start, end, DOME, gap=2)


def _draw_cycle(canvas: Canvas, frame: Frame, picture: Picture) -> None:
    round_trip = [point for point in picture.points if point.name != "measured discharge"]
    for start, end in zip(round_trip, [*round_trip[1:], round_trip[0]], strict=True):
        canvas.line(frame.dot(start.enthalpy, start.pressure), frame.dot(end.enthalpy, end.pressure), CYCLE)
    by_name = {point.name: point for point in picture.points}
    measured = by_name.get("measured discharge")
    if measured is not None:
        for end in (by_name["suction"], by_name["ideal discharge"]):
            start_dot = frame.dot(measured.enthalpy, measured.pressure)
            canvas.line(start_dot, frame.dot(end.enthalpy, end.pressure), CYCLE, gap=3)


def _label_corners(canvas: Canvas, frame: Frame, picture: Picture, units: Units) -> None:
    numbered = corners(picture)
    for number, point in numbered:
        column, row = frame.cell(point.enthalpy, point.pressure)
        # Two discharges may share a cell: the second steps aside.
        places = ((column, row), (column + 1, row), (column, row - 1), (column - 1, row - 1))
        place = next((each for each in places if canvas.free(*each, len(number))), None)
        if place is not None:
            canvas.text(*place, number, CORNER)
    if canvas.columns < LABELLED_WIDTH:
        return
    differences = {"1": ("superheat", picture.superheat), "3": ("subcooling", picture.subcooling)}
    for number, point in numbered:
        word, value = differences.get(number, ("", None))
        if value is not None:
            text = f"{word} {units.show(value, Kind.TEMPERATURE_DIFFERENCE)}"
            _place(canvas, frame.cell(point.enthalpy, point.pressure), text, above=number == "3")


def _place(canvas: Canvas, corner: tuple[int, int], text: str, above: bool) -> None:
    """Write a label near its corner, where the fewest dots are hidden."""
    column, row = corner
    side = row - 1 if above else row + 1
    places = [
        (place, line)
        for line in (side, row, 2 * row - side)
        for place in (column - len(text) // 2, column + 2, column - len(text) - 1, canvas.columns - len(text))
    ]
    free = [(x, y) for x, y in places if canvas.free(x, y, len(text))]
    if free:
        _, x, y = min((canvas.ink(x, y, len(text)), x, y) for x, y in free)
        canvas.text(x, y, text, "bold")


def _with_pressures(canvas: Canvas, frame: Frame, units: Units, margin: int) -> list[Content]:
    unit = units.unit(Kind.ABSOLUTE_PRESSURE)
    low, high = (from_si(end, unit, Kind.ABSOLUTE_PRESSURE) for end in (frame.bottom, frame.top))
    labels: dict[int, str] = {}
    for mark in log_marks(low, high):
        row = frame.cell(frame.left, to_si(mark, unit, Kind.ABSOLUTE_PRESSURE))[1]
        labels.setdefault(row, f"{mark:g}")
    return [
        Content.assemble(
            (labels.get(row, "").rjust(margin - 1), AXIS), ("┤" if row in labels else "│", AXIS), line
        )
        for row, line in enumerate(canvas.lines())
    ]


def _enthalpies(frame: Frame, margin: int) -> list[Content]:
    axis, labels = ["─"] * frame.columns, [" "] * (frame.columns + margin)
    for mark in linear_marks(frame.left / 1e3, frame.right / 1e3, frame.columns // 9):
        column = frame.cell(mark * 1e3, frame.bottom)[0]
        axis[column] = "┴"
        text = f"{mark:g}"
        start = min(margin + column - len(text) // 2, len(labels) - len(text))
        labels[start : start + len(text)] = text
    unit = "kJ/kg"
    labels[: len(unit)] = unit
    return [
        Content.styled(f"{' ' * (margin - 1)}└{''.join(axis)}", AXIS),
        Content.styled("".join(labels), AXIS),
    ]
