"""What is wrong with a draft, in place of the step, until it is mended."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen

from tui.actions import bindings
from tui.plain import one_line
from tui.widgets.key_bar import KeyBar
from tui.widgets.lines import LineView, hanging

if TYPE_CHECKING:
    from tui.trying import TryApp


class ProblemsScreen(Screen[None]):
    """Lies below the walk of a draft, and is seen while there is nothing to walk."""

    WHERE = "problems"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings(WHERE)]
    AUTO_FOCUS = "#problems-body"
    DEFAULT_CSS = """
    ProblemsScreen #problems-body { height: 1fr; padding: 1 2; scrollbar-size-vertical: 1; }
    ProblemsScreen #problems { max-width: 110; }
    ProblemsScreen.-short #problems-body { padding: 0 1; }
    """

    def compose(self) -> ComposeResult:
        yield LineView(id="top")
        with VerticalScroll(id="problems-body"):
            yield LineView(id="problems")
        yield KeyBar(self.WHERE)

    def show(self, title: str, lines: Sequence[str], then: str) -> None:
        """Each line says place, problem and remedy; `then` is what happens once they are mended."""
        top = Content.styled(one_line(title), "bold $text-accent")
        self.query_one("#top", LineView).show(lambda width: [top.truncate(width, ellipsis=True)])
        self.query_one("#problems", LineView).show(lambda width: _lines(lines, then, width))

    def action_reload(self) -> None:
        cast("TryApp", self.app).read_again()

    def action_back(self) -> None:
        self.app.exit()


def _lines(problems: Sequence[str], then: str, width: int) -> list[Content]:
    lines: list[Content] = []
    for problem in problems:
        lines += [*hanging(Content(one_line(problem)), width, "■ "), Content("")]
    return lines + hanging(Content.styled(then, "$quiet"), width)
