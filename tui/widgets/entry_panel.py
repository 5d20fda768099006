"""Under the step: what is asked now, with its entry, its settle bar or its one button."""

from __future__ import annotations

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message

from tui.asking import Asking, Mode
from tui.widgets.entry_line import EntryLine
from tui.widgets.line_text import LineText
from tui.widgets.lines import LineView, hanging
from tui.widgets.settle_bar import SettleBar
from tui.widgets.tap import Tap


class EntryPanel(Vertical):
    """Shows an `Asking`. The keys are the screen's; the buttons run the screen's actions."""

    class HeightChanged(Message):
        """The panel needs more or fewer lines than before, so the card above it has to give or may take."""

    def __init__(self) -> None:
        super().__init__(id="entry")
        self._height = 0

    def compose(self) -> ComposeResult:
        yield LineText(id="entry-title")
        yield LineView(id="entry-lines")
        yield LineView(id="entry-extra")
        yield SettleBar(id="settle-bar")
        yield EntryLine()
        with Horizontal(id="entry-taps"):
            yield Tap("", "Enter", "screen.accept", id="tap-accept", classes="-main")
            yield Tap("", "F2", "screen.cannot", id="tap-cannot")

    def on_resize(self, event: events.Resize) -> None:
        if event.size.height != self._height:
            self._height = event.size.height
            self.post_message(self.HeightChanged())

    def show(self, asking: Asking, text: str | None) -> None:
        """Ask; `text` is put into the entry, None leaves what is typed there."""
        head = Content.assemble(
            (asking.title, "bold"), (f"  {asking.count}" if asking.count else "", "$quiet")
        )
        self.query_one("#entry-title", LineText).show(head)
        self.query_one("#entry-lines", LineView).show(lambda width: _lines(asking, width))
        self.query_one("#entry-extra", LineView).show(lambda width: _extra(asking, width))
        self.query_one("#entry-lines").set_class(asking.mode is Mode.ENTRY, "-typing")
        self.query_one(SettleBar).display = asking.mode is Mode.SETTLE
        self.query_one(EntryLine).show(asking, text)
        self.show_accept(asking.accept)
        self.query_one("#tap-cannot", Tap).show(asking.cannot)

    def show_accept(self, label: str) -> None:
        """Change the words on the main button."""
        self.query_one("#tap-accept", Tap).show(label)

    def show_settling(self, left: float, total: float) -> None:
        """Move the settle bar; the main button opens once the time is over."""
        self.query_one(SettleBar).show(left, total)
        self.show_accept("Settled, read now" if left <= 0 else "")

    @property
    def text(self) -> str:
        """Title and lines as they are shown, for tests."""
        title = self.query_one("#entry-title", LineText).text
        return f"{title}\n{self.query_one('#entry-lines', LineView).text}"


def _extra(asking: Asking, width: int) -> list[Content]:
    return hanging(Content.styled(asking.extra, "$quiet"), width) if asking.extra else []


def _lines(asking: Asking, width: int) -> list[Content]:
    lines: list[Content] = []
    for text in asking.lines:
        lines += hanging(Content.styled(text, "$quiet" if asking.mode is Mode.ENTRY else ""), width)
    return lines
