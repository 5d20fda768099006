"""All that the walk screen shows above its key bar: head, step, entry, board, trail and notices."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content

from engine.job.session import Session
from engine.job.walk import Walk
from tui.asking import Asking, Mode
from tui.heads import phase_line, top_line
from tui.plain import one_line
from tui.units import Units
from tui.widgets.board import Board
from tui.widgets.entry_panel import EntryPanel
from tui.widgets.line_text import LineText
from tui.widgets.lines import LineView
from tui.widgets.step_card import StepCard
from tui.widgets.trail import TrailPane

PANES = ("step", "board", "trail")
"""On a narrow terminal one at a time; on a wide one the step beside both others, the board, or the trail."""


class WalkView(Vertical):
    """Draws a session. What the person does is the screen's business."""

    def __init__(self) -> None:
        super().__init__(id="walk-view", classes="-pane-step")
        self._asking: Asking | None = None

    def compose(self) -> ComposeResult:
        yield LineView(id="top")
        yield LineText(id="phase")
        with Horizontal(id="work"):
            with Vertical(id="step"):
                yield StepCard("entry", id="card")
                yield EntryPanel()
            with Vertical(id="side"):
                yield Board(id="board")
                yield TrailPane(id="trail")
        yield LineText(id="notice")

    def show(self, session: Session, asking: Asking, units: Units, text: str | None) -> None:
        """Draw the walk anew; `text` is put into the entry, None leaves what is typed there."""
        walk, learner = session.walk, session.learner
        job = "draft, not kept" if session.is_draft else f"job {session.job}"
        self.query_one("#top", LineView).show(lambda width: [top_line(walk, job, units, learner, width)])
        self.query_one("#phase", LineText).show(Content(phase_line(walk)))
        self._asking = asking
        self.query_one(EntryPanel).show(asking, text)
        if text is not None:
            self.query_one(StepCard).show(walk)
        # First what is asked next, in the frame after it what is looked at beside it.
        self.call_after_refresh(self.show_beside, walk, units)

    def show_beside(self, walk: Walk, units: Units) -> None:
        """Draw board and trail; the step itself has been painted by then."""
        self.on_step_card_scrolled()
        self.query_one(Board).show(walk, units)
        self.query_one(TrailPane).show(walk, units)

    def tell(self, *sentences: str) -> None:
        """Show sentences above the key bar; none takes them away."""
        told = " ".join(one_line(each) for each in sentences)
        notice = self.query_one("#notice", LineText)
        notice.show(Content(f"! {told}" if told else ""))
        notice.display = bool(told)

    def turn_panes(self) -> None:
        """Show the next of the panes."""
        shown = next(pane for pane in PANES if self.has_class(f"-pane-{pane}"))
        self.remove_class(f"-pane-{shown}")
        self.add_class(f"-pane-{PANES[(PANES.index(shown) + 1) % len(PANES)]}")

    def on_step_card_scrolled(self) -> None:
        """The button tells whether Enter reads on or acknowledges."""
        if self._asking is not None and self._asking.mode is Mode.READ_CAUTIONS:
            all_seen = self.query_one(StepCard).all_seen
            self.query_one(EntryPanel).show_accept(self._asking.accept if all_seen else "Read on")

    def on_entry_panel_height_changed(self) -> None:
        """The card gives or takes what the entry needs more or less, unless the layout has seen to that."""
        card, entry, column = self.query_one(StepCard), self.query_one(EntryPanel), self.query_one("#step")
        spare = column.region.bottom - entry.region.bottom
        if spare < 0 or (spare > 0 and card.max_scroll_y > 0):
            card.refresh(layout=True)
