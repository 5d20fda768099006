"""Help: the step one stands at, with its cautions in full, and every key of the screen one came from."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen

from tui.actions import actions_on, bindings
from tui.plain import one_line
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView, hanging, heading
from tui.widgets.signals import caution_lines
from tui.widgets.step_card import captioned, cautions_of, set_lines, step_lines

if TYPE_CHECKING:
    from engine.job.session import Session

KEY_WIDTH = 8

ENTRY_HELP = (
    "Numbers: 41, 2.8, 2,8 and -3 are all understood; a bare number takes the unit beside the entry, "
    "and 41 psi, 2.8 bar or 12 inHg vac says its own.",
    "Choices: the number, the word or its beginning; several are parted by commas.",
    "What was understood stands under the entry before it counts. Undo takes any answer back.",
    "Cannot measure is always an honest answer: the procedure goes another way instead of guessing.",
)


class HelpScreen(Screen[None]):
    """Help for the screen `where`; with a session, for its step as well."""

    WHERE = "help"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(WHERE)]
    AUTO_FOCUS = "#help-body"

    def __init__(self, where: str, session: Session | None) -> None:
        super().__init__(id="help")
        self._about, self._session = where, session

    def compose(self) -> ComposeResult:
        yield LineView(id="top")
        with VerticalScroll(id="help-body"):
            yield LineView(id="help-text")
        yield KeyBar(self.WHERE)

    def on_mount(self) -> None:
        self.query_one("#top", LineView).show(lambda width: [Content.styled("Help", "bold $text-accent")])
        self.query_one("#help-text", LineView).show(self._lines)

    def action_back(self) -> None:
        self.dismiss()

    def _lines(self, width: int) -> list[Content]:
        lines = self._step_lines(width)
        if self._about in ("walk", "try"):
            lines += heading("Answering")
            lines += [line for each in ENTRY_HELP for line in hanging(Content(each), width, "· ")]
        lines += heading("Keys")
        for action in actions_on(self._about):
            key = Content.styled(f"{action.key_text:<{KEY_WIDTH}}", "bold")
            first, *rest = hanging(Content(action.help), width, " " * KEY_WIDTH)
            lines += [key + first[KEY_WIDTH:], *rest]
        return lines

    def _step_lines(self, width: int) -> list[Content]:
        walk = self._session.walk if self._session is not None else None
        if walk is None or walk.step is None:
            return []
        lines = [*heading("This step"), *hanging(Content.styled(one_line(walk.step.title), "bold"), width)]
        lines += [*step_lines(walk.step, width), *set_lines(walk, walk.step, width)]
        reading = walk.reading
        if reading is not None:
            lines += [
                *heading("This reading"),
                *hanging(Content.styled(one_line(reading.label), "bold"), width),
            ]
            for caption, text in (("How", reading.how), ("Without it", reading.unknown_hint)):
                lines += captioned(caption, text, width) if text else []
        cautions = cautions_of(walk, walk.step)
        if cautions:
            lines += [*heading("Cautions"), *caution_lines(cautions, width)]
        return lines
