"""A whole flow drawn as one trunk with its branches; with a job, its path so far and where it stands."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen

from engine.flow.draw import notes, text
from engine.flow.draw.layout import laid_out
from engine.flow.draw.overlay import Overlay
from engine.flow.draw.text import Line, text_lines
from engine.flow.model import Flow
from tui.actions import bindings
from tui.plain import one_line
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView

WIDEST = 110
"""Columns of the drawing; on a wider terminal longer lines would be harder to read."""

TYPED_FOR = 2.0
"""Seconds after which a digit begins a new number."""

_STYLES = {
    "": "$quiet",
    text.TITLE: "bold",
    text.HERE: "bold reverse",
    text.HEAD: "bold $text-accent",
    text.MARK: "bold $text-accent",
    text.QUIET: "$quiet",
    notes.LOAD: "bold $text-primary",
    notes.CAUTION: "bold $text-warning",
    notes.READINGS: "$quiet",
    notes.END: "bold",
}


class DrawingScreen(Screen[None]):
    """Shows the drawing of `flow`, scrolled to where `overlay` says that a job stands.

    The digits of a step's number go to that step: the drawing refers to steps by number.
    """

    WHERE = "drawing"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("drawing")]
    AUTO_FOCUS = "#drawing-body"
    DEFAULT_CSS = """
    DrawingScreen #drawing-body { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    DrawingScreen #drawing { max-width: 112; }
    """

    def __init__(self, flow: Flow, overlay: Overlay | None = None) -> None:
        super().__init__()
        self._flow, self._overlay = flow, overlay
        self._plan = laid_out(flow)
        self._steps = {number: step for step, number in self._plan.numbers.items()}
        self._rows: dict[str, int] = {}  # line of each step at the present width
        self._typed = ""

    def compose(self) -> ComposeResult:
        yield LineView(id="top")
        with VerticalScroll(id="drawing-body"):
            yield LineView(id="drawing")
        yield KeyBar(self.WHERE)

    def on_mount(self) -> None:
        self._forgetting = self.set_interval(TYPED_FOR, self._forget, pause=True)
        self._tell("")
        self.query_one("#drawing", LineView).show(self._lines)
        self.call_after_refresh(self.action_here)

    def on_key(self, event: events.Key) -> None:
        if event.character is not None and event.character.isascii() and event.character.isdigit():
            event.stop()
            self._go_to_number(event.character)

    def _forget(self) -> None:
        self._typed = ""
        self._forgetting.pause()

    def action_here(self) -> None:
        """Go to where the job stands, else to the beginning."""
        here = self._overlay.here if self._overlay is not None else None
        self._forget()
        self._tell("")
        self._bring_up(self._rows.get(here or "", 0))

    def action_back(self) -> None:
        self.dismiss()

    def _go_to_number(self, digit: str) -> None:
        """To the step whose number is typed; a digit that makes no number of a step begins a new one."""
        typed = self._typed + digit
        self._typed = typed if int(typed) in self._steps else digit
        self._forgetting.reset()
        self._forgetting.resume()
        step = self._steps.get(int(self._typed))
        if step is None:
            self._tell(f"there is no step {self._typed}")
            self._forget()
        else:
            self._tell(f"step {self._typed}")
            self._bring_up(self._rows.get(step, 0))

    def _bring_up(self, row: int) -> None:
        """A third of the way down, so that one sees where the step comes from."""
        body = self.query_one("#drawing-body", VerticalScroll)
        body.scroll_to(y=max(row - body.size.height // 3, 0), animate=False)

    def _tell(self, told: str) -> None:
        title = Content.styled(f"Drawing  {one_line(self._flow.name)}", "bold $text-accent")
        text = Content.assemble(title, (f"  {told}", "$quiet"))
        self.query_one("#top", LineView).show(lambda width: [text])

    def _lines(self, width: int) -> list[Content]:
        lines = list(text_lines(self._plan, min(width, WIDEST), self._overlay))
        self._rows = {line.step: row for row, line in enumerate(lines) if line.step}
        return [_styled(line) for line in lines]


def _styled(line: Line) -> Content:
    return Content.assemble(*((part, _style(part, role)) for part, role in line.parts if part))


def _style(part: str, role: str) -> str:
    grave = role == notes.CAUTION and "DANGER" in part
    return "bold $text-error" if grave else _STYLES.get(role, "")
