"""The line that text is typed into: echoes what was understood before it counts, errors lose nothing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.timer import Timer
from textual.widgets import Input, Static

from engine.flow.model import Reading
from engine.job.entry import Entry, EntryError, read_entry
from engine.job.events import Key
from tui.asking import Asking
from tui.plain import one_line
from tui.widgets.line_text import LineText
from tui.widgets.pick_list import Pick, PickList

RESTS_AFTER = 0.3
"""Seconds without a key after which half-typed text is put on disk."""

LONGEST = 200
"""Characters an entry may hold: more than any reading or list of choices needs."""


class EntryLine(Vertical):
    """Choices, if there are any, the input with its unit, and the echo under it."""

    @dataclass
    class Accepted(Message):
        """Enter on an entry that reads well (an implausible one needs it twice)."""

        key: Key
        text: str
        unit: str

    @dataclass
    class Rested(Message):
        """The person stopped typing for `RESTS_AFTER`: the text is worth keeping as a draft."""

        key: Key
        text: str

    def __init__(self) -> None:
        super().__init__(id="entry-line")
        self._asking: Asking | None = None
        self._resting: Timer | None = None
        self._doubted = ""  # the implausible text that one Enter was pressed on

    def compose(self) -> ComposeResult:
        yield PickList(id="choices")
        with Horizontal(id="typed"):
            yield Static("›", id="prompt-sign", markup=False)
            yield Input(id="input", compact=True, max_length=LONGEST, select_on_focus=False)
            yield Static("", id="unit", markup=False)
        yield LineText(id="echo")

    @property
    def text(self) -> str:
        """What stands in the input now."""
        return self.query_one(Input).value

    @property
    def echo(self) -> str:
        """The line under the input."""
        return self.query_one("#echo", LineText).text

    def show(self, asking: Asking, text: str | None) -> None:
        """Ask for the reading of `asking`; `text` replaces what is typed, None keeps it (other units)."""
        self._stop_resting()
        self._asking, reading = asking, asking.reading
        self.display = reading is not None
        if reading is None:
            return
        if text is not None:
            self.query_one(PickList).show(_picks(reading), several=reading.several)
            with self.prevent(Input.Changed):
                self.query_one(Input).value = text
            self.query_one(Input).cursor_position = len(text)
        unit = self.query_one("#unit", Static)
        if unit.content != asking.unit:
            unit.update(asking.unit)
        self._look()

    def type_on(self, event: events.Key) -> None:
        """Take a key that was pressed while something else had the focus."""
        field = self.query_one(Input)
        field.focus()
        if event.character is not None and event.is_printable:
            field.insert_text_at_cursor(event.character)

    def submit(self) -> None:
        """Accept what is typed, or say under it why not."""
        asking = self._asking
        if asking is None or asking.reading is None:
            return
        entry = self._look(pressed=True)
        if entry is None:
            return
        if entry.implausible and self._doubted != self.text:
            self._doubted = self.text
            self._say(f"▲ {one_line(entry.implausible)} Enter again to keep it.", "bold $text-warning")
            return
        self._stop_resting()
        self.post_message(self.Accepted(asking.key, self.text, asking.unit))

    def step_choice(self, by: int) -> bool:
        """Move along the choices as an arrow key does and type the number; False if there are none."""
        reading, picks = self._reading, self.query_one(PickList)
        if reading is None or not reading.choices or reading.several:
            return False
        count = len(reading.choices)
        at = (-1 if by > 0 else count) if picks.cursor is None else picks.cursor
        self._type(str((at + by) % count + 1))
        return True

    @on(PickList.Picked)
    def _choice_clicked(self, event: PickList.Picked) -> None:
        event.stop()
        reading, picks = self._reading, self.query_one(PickList)
        if reading is None:
            return
        if reading.several:
            ticked = (picks.ticked or frozenset()) ^ {event.index}
            self._type(", ".join(str(index + 1) for index in sorted(ticked)))
        else:
            self._type(str(event.index + 1))
            self.submit()

    @on(Input.Changed)
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        self._doubted = ""
        self._look()
        self._stop_resting()
        self._resting = self.set_timer(RESTS_AFTER, self._rest)

    @on(Input.Submitted)
    def _enter(self, event: Input.Submitted) -> None:
        event.stop()
        self.submit()

    def _rest(self) -> None:
        self._stop_resting()
        if self._asking is not None:
            self.post_message(self.Rested(self._asking.key, self.text))

    def _stop_resting(self) -> None:
        if self._resting is not None:
            self._resting.stop()
            self._resting = None

    @property
    def _reading(self) -> Reading | None:
        return None if self._asking is None else self._asking.reading

    def _type(self, text: str) -> None:
        field = self.query_one(Input)
        field.value = text
        field.cursor_position = len(text)

    def _look(self, pressed: bool = False) -> Entry | None:
        """Read the text, echo it, and return what was understood."""
        asking, text = self._asking, self.text
        if asking is None or asking.reading is None:
            return None
        if not text.strip():
            self._mark(asking.reading, None)
            hint = "Type it first, or press F2: cannot measure." if pressed else ""
            self._say(hint, "bold $text-warning")
            return None
        try:
            entry = read_entry(asking.reading, text, asking.unit, asking.atmosphere_pa)
        except EntryError as error:
            self._mark(asking.reading, None)
            self._say(f"! {one_line(str(error))}", "$text-error")
            return None
        self._mark(asking.reading, entry)
        doubt = f"  ▲ {one_line(entry.implausible)}" if entry.implausible else ""
        self._say(f"= {one_line(entry.echo)}{doubt}", "bold $text-accent")
        return entry

    def _mark(self, reading: Reading, entry: Entry | None) -> None:
        words = _words(entry)
        chosen = frozenset(index for index, choice in enumerate(reading.choices) if choice.word in words)
        cursor = next(iter(chosen), None) if not reading.several else None
        self.query_one(PickList).mark(cursor, chosen)

    def _say(self, text: str, style: str) -> None:
        self.query_one("#echo", LineText).show(Content.styled(text, style))


def _picks(reading: Reading) -> Iterable[Pick]:
    return tuple(Pick(one_line(choice.label)) for choice in reading.choices)


def _words(entry: Entry | None) -> frozenset[str]:
    if entry is None or isinstance(entry.value, float):
        return frozenset()
    return entry.value if isinstance(entry.value, frozenset) else frozenset({entry.value})
