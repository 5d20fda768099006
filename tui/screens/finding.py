"""The finding: what it is and how sure, the evidence for and against, and what to do next."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import Screen

from engine.job.session.told import conclusion_sentence
from engine.job.state import Conclusion
from tui.actions import bindings
from tui.plain import plain
from tui.screens.question import Question
from tui.units import Units
from tui.widgets.evidence import evidence_lines, sureness, title_of
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView, hanging, heading
from tui.widgets.remedy import remedy_lines, wanted_reading
from tui.widgets.tap import Tap

if TYPE_CHECKING:
    from engine.job.session import Session


class FindingScreen(Screen[bool]):
    """Shows a session's conclusion. Dismisses with True to go on with closing steps, False to go back."""

    WHERE = "finding"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("finding")]
    AUTO_FOCUS = "#finding-body"
    DEFAULT_CSS = """
    FindingScreen #finding-head { padding: 0 1; background: $surface; height: auto; }
    FindingScreen #finding-body { padding: 0 1; height: 1fr; scrollbar-size-vertical: 1; }
    FindingScreen #finding-columns { layout: vertical; height: auto; }
    FindingScreen.-roomy #finding-columns { layout: horizontal; }
    FindingScreen #remedy { margin-top: 1; }
    FindingScreen.-roomy #remedy { margin: 0 0 0 4; }
    FindingScreen.-tall #finding-body { padding-top: 1; }
    FindingScreen #finding-taps { height: 1; padding: 0 1; }
    FindingScreen #finding-taps Tap { margin-right: 2; }
    FindingScreen.-short #finding-taps { display: none; }
    """

    def __init__(self, session: Session, units: Units) -> None:
        super().__init__()
        self._session, self._units = session, units

    def compose(self) -> ComposeResult:
        yield LineView(id="finding-head")
        with VerticalScroll(id="finding-body"), Horizontal(id="finding-columns"):
            yield LineView(id="evidence")
            yield LineView(id="remedy")
        with Horizontal(id="finding-taps"):
            yield Tap("Write the sheet", "S", "screen.sheet")
            yield Tap("p-h picture", "F5", "screen.picture")
            yield Tap("Go on" if self._has_more else "Close", "Enter", "screen.go_on", classes="-main")
        yield KeyBar(self.WHERE)

    def on_mount(self) -> None:
        flow, conclusion = self._session.walk.flow, self._session.conclusion
        if conclusion is None:
            self.query_one("#finding-head", LineView).show(lambda width: [Content("No finding yet.")])
            return
        self.query_one("#finding-head", LineView).show(lambda width: self._head(conclusion, width))
        self.query_one("#evidence", LineView).show(lambda width: self._evidence(conclusion, width))
        self.query_one("#remedy", LineView).show(lambda width: remedy_lines(flow, conclusion, width))

    def show_units(self, units: Units) -> None:
        """Pass the units on to what is opened from here; the evidence itself holds no figures."""
        self._units = units

    def action_sheet(self) -> None:
        if self._session.is_draft:
            told = "This is a draft being tried. A job walked with `loadstep walk` has a sheet."
            self.app.push_screen(Question("No sheet", [told], ["Back"]))
            return
        from tui.sheets import sheet_screen

        self.app.push_screen(sheet_screen(self._session, self._units))

    def action_picture(self) -> None:
        from tui.screens.cycle import CycleScreen

        self.app.push_screen(CycleScreen(self._session.walk, self._units))

    def action_go_on(self) -> None:
        self.dismiss(True)

    def action_back(self) -> None:
        self.dismiss(False)

    def _evidence(self, conclusion: Conclusion, width: int) -> list[Content]:
        """The evidence as it was written down; below it what this version concludes, if it differs."""
        walk = self._session.walk
        lines = evidence_lines(walk.flow, conclusion, width)
        if walk.conclusion is None or not conclusion_sentence(conclusion, walk):
            return lines
        lines += heading(f"As this version concludes: {title_of(walk.flow, walk.conclusion.finding)}")
        sure = sureness(walk.flow, walk.conclusion)
        lines += hanging(Content.styled(sure, "bold"), width) if sure else []
        return lines + evidence_lines(walk.flow, walk.conclusion, width)

    @property
    def _has_more(self) -> bool:
        return self._session.walk.prompt is not None

    def _head(self, conclusion: Conclusion, width: int) -> list[Content]:
        flow = self._session.walk.flow
        title = Content.styled(title_of(flow, conclusion.finding), "bold $text-accent")
        sure = sureness(flow, conclusion)
        lines = hanging(title, width, "■ ")
        differs = conclusion_sentence(conclusion, self._session.walk)
        if differs:
            lines += hanging(Content.styled(plain(differs), "bold $text-warning"), width, "! ")
        if sure:
            lines += hanging(Content.styled(sure, "bold"), width, "  ")
        wanted = wanted_reading(flow, conclusion)
        if not sure and wanted:
            lines += hanging(Content.styled(f"measure next: {wanted}", "bold"), width, "  ")
        return lines
