"""A set drawn on the pressure-enthalpy chart, or the sentence that says what is missing for it."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen

from engine.job.picture import NoPicture, Picture, picture, running_sets, telling_set
from engine.job.walk import Walk
from engine.physics.quantity import Kind
from tui.actions import bindings
from tui.plain import one_line, plain
from tui.units import Units
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView, hanging
from tui.widgets.ph_chart import LEAST_HEIGHT, chart_lines, corners

NO_SET = "No set with the compressor running has been taken yet: the picture needs one."
SHORTEST = 10
"""The chart keeps at least this many lines; what does not fit below it is reached by scrolling."""


class CycleScreen(Screen[None]):
    """Shows one set of a walk at a time, the most telling first; left and right change the set."""

    WHERE = "cycle"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("cycle")]
    AUTO_FOCUS = "#cycle-body"
    DEFAULT_CSS = """
    CycleScreen #cycle-head { padding: 0 1; background: $surface; }
    CycleScreen #cycle-body { padding: 0 1; height: 1fr; scrollbar-size-vertical: 1; }
    """

    def __init__(self, walk: Walk, units: Units) -> None:
        super().__init__()
        self._walk, self._units = walk, units
        self._sets = running_sets(walk)
        first = telling_set(walk)
        self._place = self._sets.index(first) if first is not None else 0

    def compose(self) -> ComposeResult:
        yield LineView(id="cycle-head")
        with VerticalScroll(id="cycle-body"):
            yield LineView(id="cycle-picture")
        yield KeyBar(self.WHERE)

    def on_mount(self) -> None:
        self._redraw()

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self._redraw)  # the body has its new height only then

    def show_units(self, units: Units) -> None:
        """Draw the same set in other units."""
        self._units = units
        self._redraw()

    def action_previous_set(self) -> None:
        self._turn(-1)

    def action_next_set(self) -> None:
        self._turn(+1)

    def action_back(self) -> None:
        self.dismiss()

    def _turn(self, by: int) -> None:
        if self._sets:
            self._place = (self._place + by) % len(self._sets)
            self._redraw()

    def _redraw(self) -> None:
        self.query_one("#cycle-head", LineView).show(self._head)
        self.query_one("#cycle-picture", LineView).show(self._lines)

    def _head(self, width: int) -> list[Content]:
        if not self._sets:
            return [Content.styled("Pressure-enthalpy picture", "bold $text-accent")]
        label = one_line(self._walk.flow.sets[self._sets[self._place]].label)
        refrigerant = plain(str(self._walk.facts.get("refrigerant") or "refrigerant unknown"))
        where = f"◂ {self._place + 1} of {len(self._sets)} ▸"
        text = Content.assemble((label, "bold $text-accent"), f"  {refrigerant}  ", (where, "$quiet"))
        return hanging(text, width)

    def _lines(self, width: int) -> list[Content]:
        if not self._sets:
            return hanging(Content(NO_SET), width)
        unit, temperature = self._units.unit(Kind.PRESSURE), self._units.unit(Kind.TEMPERATURE)
        try:
            drawn = picture(self._walk, self._sets[self._place], unit, temperature)
        except NoPicture as error:
            return hanging(Content(plain(str(error))), width)
        below = _told(drawn, self._units, width)
        room = self.query_one("#cycle-body").size.height
        height = max(room - len(below), min(SHORTEST, room), LEAST_HEIGHT)
        return [*chart_lines(drawn, self._units, width, height), *below]


def _told(drawn: Picture, units: Units, width: int) -> list[Content]:
    """The corners in words and figures, what was assumed, and how the lines are to be read."""
    beside = {
        "suction": ("superheat", drawn.superheat),
        "condenser outlet": ("subcooling", drawn.subcooling),
    }
    lines: list[Content] = []
    for number, point in corners(drawn):
        figures = [
            units.show(point.pressure, Kind.ABSOLUTE_PRESSURE),
            units.show(point.enthalpy, Kind.ENTHALPY),
        ]
        word, value = beside.get(point.name, ("", None))
        figures += [f"{word} {units.show(value, Kind.TEMPERATURE_DIFFERENCE)}"] if value is not None else []
        text = Content.assemble((point.name, "bold"), f"  {', '.join(figures)}")
        lines += hanging(text, width, f"{number:<3}")
    for note in drawn.assumed:
        lines += hanging(Content(note), width, "! ")
    key = "Dotted: the dome, liquid left of it, vapour right. Solid: the ideal cycle through the readings."
    return lines + hanging(Content.styled(key, "$quiet"), width)
