"""The entry line: what is understood stands under it before it counts, and an error loses nothing."""

from __future__ import annotations

from typing import Any

import pytest
from textual.widgets import Input

from engine.flow.model import Choice, Range, Reading
from engine.physics.quantity import Kind, to_si
from tests.tui.bare import BareApp
from tui.asking import Asking, Mode
from tui.widgets import entry_line
from tui.widgets.entry_line import EntryLine
from tui.widgets.pick_list import PickList

PSI = Range(to_si(-15, "psi", Kind.PRESSURE), to_si(160, "psi", Kind.PRESSURE))
LOW = Reading("low_side", "Low-side gauge", Kind.PRESSURE, "psi", plausible=PSI)
DRIVE = Reading("drive", "Drive", choices=(Choice("belt", "Belt"), Choice("electric", "Electric motor")))
FOUND = Reading(
    "contamination",
    "Found",
    choices=(Choice("none", "Nothing"), Choice("air", "Air"), Choice("sealant", "Sealant")),
    several=True,
    alone="none",
)
KEY = ("base", 1, "low_side")


@pytest.fixture(autouse=True)
def _nobody_rests(monkeypatch: pytest.MonkeyPatch) -> None:
    """A slow machine between two keys is no person who stopped typing."""
    monkeypatch.setattr(entry_line, "RESTS_AFTER", 60.0)


class EntryApp(BareApp):
    """One entry line; `said` keeps what it posts."""

    def __init__(self, reading: Reading, unit: str = "psi", text: str = "") -> None:
        super().__init__(EntryLine())
        self.asking = Asking(Mode.ENTRY, KEY, reading.label, reading=reading, unit=unit)
        self.text = text
        self.said: list[Any] = []

    def on_mount(self) -> None:
        self.line.show(self.asking, self.text)
        self.query_one(Input).focus()

    @property
    def line(self) -> EntryLine:
        return self.query_one(EntryLine)

    def on_entry_line_accepted(self, event: EntryLine.Accepted) -> None:
        self.said.append(("accepted", event.key, event.text, event.unit))

    def on_entry_line_rested(self, event: EntryLine.Rested) -> None:
        self.said.append(("rested", event.key, event.text))


async def test_the_echo_says_gauge_and_absolute_while_typing() -> None:
    app = EntryApp(LOW, "bar")
    async with app.run_test() as pilot:
        await pilot.press("2", "comma", "5")
        # 2.5 bar gauge + 1.01325 bar of standard atmosphere (ISO 2533) is 3.51 bar.
        assert app.line.echo == "= 2.5 bar gauge = 3.51 bar absolute"
        assert app.said == []
        await pilot.press("enter")
        assert app.said == [("accepted", KEY, "2,5", "bar")]


async def test_an_error_is_a_sentence_and_keeps_the_text() -> None:
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        await pilot.press("4", "1", "space", "K", "enter")
        assert app.line.echo.startswith("! ")
        assert "temperature" in app.line.echo
        assert app.line.text == "41 K"
        assert app.said == []


async def test_enter_on_nothing_asks_for_it() -> None:
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        assert app.line.echo == ""
        await pilot.press("enter")
        assert "F2" in app.line.echo
        assert app.said == []


async def test_an_implausible_value_needs_enter_twice() -> None:
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        await pilot.press("3", "0", "0")
        assert "unusual" in app.line.echo
        await pilot.press("enter")
        assert app.said == []
        assert "Enter again" in app.line.echo
        await pilot.press("enter")
        assert app.said == [("accepted", KEY, "300", "psi")]


async def test_another_implausible_value_is_asked_about_anew() -> None:
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        await pilot.press("3", "0", "0", "enter", "0", "enter")
        assert app.said == []
        assert "3000 psi" in app.line.echo


@pytest.mark.parametrize("typed", ["2", "e", "Ele", "electric motor"])
async def test_a_choice_by_digit_letter_or_word(typed: str) -> None:
    app = EntryApp(DRIVE)
    async with app.run_test() as pilot:
        await pilot.press(*("space" if letter == " " else letter for letter in typed))
        assert app.line.echo == "= Electric motor"
        assert app.query_one(PickList).cursor == 1
        await pilot.press("enter")
        assert app.said == [("accepted", KEY, typed, "psi")]


async def test_arrows_go_round_the_choices_and_type_the_number() -> None:
    app = EntryApp(DRIVE)
    async with app.run_test() as pilot:
        for by, number in ((+1, "1"), (+1, "2"), (+1, "1"), (-1, "2")):
            assert app.line.step_choice(by)
            await pilot.pause()
            assert app.line.text == number


async def test_arrows_have_nothing_to_go_round_at_a_number() -> None:
    app = EntryApp(LOW)
    async with app.run_test():
        assert not app.line.step_choice(+1)


async def test_a_click_on_a_choice_answers() -> None:
    app = EntryApp(DRIVE)
    async with app.run_test() as pilot:
        await pilot.click("#choices", offset=(6, 1))
        await pilot.pause()
        assert app.said == [("accepted", KEY, "2", "psi")]


async def test_clicks_tick_where_several_may_be_chosen() -> None:
    app = EntryApp(FOUND)
    async with app.run_test() as pilot:
        for row in (1, 2, 1):
            await pilot.click("#choices", offset=(8, row))
            await pilot.pause()
        assert app.line.text == "3"
        await pilot.click("#choices", offset=(8, 1))
        await pilot.pause()
        assert app.line.text == "2, 3"
        assert app.line.echo == "= Air, Sealant"
        assert app.query_one(PickList).ticked == frozenset({1, 2})
        assert app.said == []


async def test_none_beside_another_choice_is_refused() -> None:
    app = EntryApp(FOUND)
    async with app.run_test() as pilot:
        await pilot.press("1", "comma", "2", "enter")
        assert "alone" in app.line.echo
        assert app.said == []


async def test_a_rest_posts_a_draft_and_an_answer_does_not(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(entry_line, "RESTS_AFTER", 1.0)  # no two keys are so far apart on a slow machine
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        await pilot.press("3", "1")
        await pilot.pause(2.0)
        assert app.said == [("rested", KEY, "31")]
        await pilot.press("backspace", "enter")
        await pilot.pause(2.0)
        assert app.said[1:] == [("accepted", KEY, "3", "psi")]


async def test_text_put_in_is_echoed_and_posts_nothing() -> None:
    app = EntryApp(LOW, text="41")
    async with app.run_test() as pilot:
        await pilot.pause(0.4)
        assert app.line.text == "41"
        assert app.line.echo == "= 41 psi gauge = 55.7 psi absolute"
        assert app.said == []


async def test_other_units_keep_the_text_and_read_it_anew() -> None:
    app = EntryApp(LOW)
    async with app.run_test() as pilot:
        await pilot.press("4", "1")
        app.line.show(Asking(Mode.ENTRY, KEY, "", reading=LOW, unit="kPa"), None)
        assert app.line.text == "41"
        assert app.line.echo.startswith("= 41 kPa gauge")
