"""The pressure-enthalpy screen and the canvas it is drawn on."""

from __future__ import annotations

import pytest

from engine.job.picture import picture
from engine.job.state import Prompt
from tests.tui import sample
from tests.tui.bare import BareApp
from tui import themes
from tui.screens.cycle import NO_SET, CycleScreen
from tui.units import Units
from tui.widgets.axes import linear_marks, log_marks
from tui.widgets.canvas import Canvas
from tui.widgets.lines import LineView
from tui.widgets.ph_chart import LEAST_HEIGHT, LEAST_WIDTH, Frame, chart_lines

FULL = {
    **sample.FACTS,
    "loaded.suction_line_temperature": sample.deg_f(52),
    "loaded.liquid_line_temperature": sample.deg_f(110),
}


def drawn(app: BareApp) -> str:
    return app.screen.query_one("#cycle-picture", LineView).text


def head(app: BareApp) -> str:
    return app.screen.query_one("#cycle-head", LineView).text


# The canvas


def test_a_dot_sets_its_bit_of_the_braille_cell() -> None:
    # Unicode, Braille Patterns: dots 1 (0x01) and 4 (0x08) are on top, 7 (0x40) and 8 (0x80) at the bottom.
    for (x, y), letter in {(0, 0): "⠁", (1, 0): "⠈", (0, 3): "⡀", (1, 3): "⢀"}.items():
        canvas = Canvas(1, 1)
        canvas.dot(x, y)
        assert canvas.lines()[0].plain == letter


def test_dots_in_one_cell_add_up_and_those_outside_are_dropped() -> None:
    canvas = Canvas(2, 1)
    for x, y in ((0, 0), (1, 0), (-1, 0), (4, 0), (0, 4), (0, -1)):
        canvas.dot(x, y)
    assert [line.plain for line in canvas.lines()] == ["⠉ "]


def test_a_line_reaches_both_its_ends() -> None:
    canvas = Canvas(4, 1)
    canvas.line((0, 0), (7, 0))
    assert canvas.lines()[0].plain == "⠉⠉⠉⠉"


def test_letters_cover_dots_and_are_cut_at_the_edge() -> None:
    canvas = Canvas(4, 1)
    canvas.line((0, 0), (7, 0))
    canvas.text(2, 0, "abc")
    assert canvas.lines()[0].plain == "⠉⠉ab"
    assert not canvas.free(1, 0, 2)
    assert canvas.free(0, 0, 2)
    assert canvas.ink(0, 0, 4) == 4


# The axes


@pytest.mark.parametrize(
    ("low", "high", "most", "marks"),
    [
        (0.0, 10.0, 5, [0, 2, 4, 6, 8, 10][:5]),
        (137.0, 461.0, 6, [200, 300, 400]),
        (0.0, 1.0, 10, [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]),
        (5.0, 5.0, 3, []),
        (0.0, 1.0, 0, []),
    ],
)
def test_linear_marks_are_round_numbers(low: float, high: float, most: int, marks: list[float]) -> None:
    assert linear_marks(low, high, most) == pytest.approx(marks)


def test_log_marks_are_one_two_and_five() -> None:
    assert log_marks(14.0, 700.0) == pytest.approx([20, 50, 100, 200, 500])
    assert log_marks(1.0, 10.0) == pytest.approx([1, 2, 5, 10])


def test_the_pressure_axis_is_logarithmic() -> None:
    frame = Frame(0.0, 100.0, 1e5, 1e7, 50, 20)
    bottom, middle, top = (frame.dot(0, p)[1] for p in (1e5, 1e6, 1e7))
    assert (bottom, top) == (pytest.approx(79), pytest.approx(0))
    assert middle == pytest.approx((bottom + top) / 2)


# The chart


def test_the_chart_has_its_axes_in_the_persons_unit() -> None:
    shown = picture(sample.walk(FULL), "loaded")
    for units, title, mark in (
        ("psi degF", "psia", "200"),
        ("kPa degC", "kPaa", "1000"),
        ("bar degC", "bara", "10"),
    ):
        lines = [line.plain for line in chart_lines(shown, Units(units), 80, 20)]
        assert lines[0].startswith(f"{title} (absolute")
        assert any(line[:5].strip() == mark and line[5] == "┤" for line in lines)
        assert lines[-1].startswith("kJ/kg")
        assert len(lines) == 20


def test_the_corners_stand_where_the_cycle_puts_them() -> None:
    """1 right of 4 on the lower line, 3 and 2 on the upper, 3 above 4: expansion keeps the enthalpy."""
    lines = [line.plain for line in chart_lines(picture(sample.walk(FULL), "loaded"), Units(), 100, 30)]
    found = {}
    for row, line in enumerate(lines[1:-2]):
        for number in "1234":
            column = line.find(number, 6)
            if (
                column >= 0
                and line[column - 1] not in "0123456789."
                and line[column + 1 : column + 2] not in "0123456789."
            ):
                found[number] = (column, row)
    assert found["1"][1] == found["4"][1] > found["3"][1] == found["2"][1]
    assert found["3"][0] == found["4"][0] < found["1"][0] < found["2"][0]


def test_superheat_and_subcooling_stand_beside_their_corners() -> None:
    text = "\n".join(
        line.plain for line in chart_lines(picture(sample.walk(FULL), "loaded"), Units(), 90, 24)
    )
    assert "superheat 17.4 degF" in text
    assert "subcooling 25.5 degF" in text


@pytest.mark.parametrize(("width", "height"), [(LEAST_WIDTH - 1, 30), (80, LEAST_HEIGHT - 1), (1, 1)])
def test_where_it_could_not_be_read_there_is_no_chart(width: int, height: int) -> None:
    assert chart_lines(picture(sample.walk(FULL), "loaded"), Units(), width, height) == []


@pytest.mark.parametrize("refrigerant", ["R-134a", "R-1234yf"])
@pytest.mark.parametrize(("width", "height"), [(LEAST_WIDTH, LEAST_HEIGHT), (40, 9), (80, 18), (200, 55)])
def test_no_line_is_longer_than_the_chart_is_wide(refrigerant: str, width: int, height: int) -> None:
    shown = picture(sample.walk({**FULL, "refrigerant": refrigerant}), "loaded")
    lines = chart_lines(shown, Units(), width, height)
    assert len(lines) == height
    assert {line.cell_length for line in lines[1:-2]} == {width}
    assert max(line.cell_length for line in lines) <= max(width, 28)


# The screen


async def test_it_opens_on_the_most_telling_set_and_turns_round_them() -> None:
    app = BareApp(CycleScreen(sample.walk(FULL), Units()))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert head(app) == "Load raised  R-134a  ◂ 2 of 2 ▸"
        await pilot.press("left")
        assert head(app) == "Baseline  R-134a  ◂ 1 of 2 ▸"
        assert "Line temperatures not taken" in drawn(app)
        await pilot.press("right", "right")
        assert head(app).startswith("Baseline")


async def test_each_corner_is_told_in_words_with_pressure_and_enthalpy() -> None:
    app = BareApp(CycleScreen(sample.walk(FULL), Units()))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        line = next(line for line in drawn(app).splitlines() if line.startswith("1  suction"))
        # 30 psi gauge at sea level is 44.7 psia
        assert line.startswith("1  suction  44.7 psia, ")
        assert line.endswith(" kJ/kg, superheat 17.4 degF")


async def test_other_units_redraw_the_same_set() -> None:
    shown = CycleScreen(sample.walk(FULL), Units())
    app = BareApp(shown)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        shown.show_units(Units("bar degC"))
        await pilot.pause()
        assert "bara (absolute" in drawn(app)
        assert "superheat 9.7 K" in drawn(app)


async def test_without_a_running_set_a_sentence_says_so() -> None:
    at_rest = sample.walk({"static.low_side": 5e5}, prompt=Prompt("at-rest", 1, "high_side"))
    app = BareApp(CycleScreen(at_rest, Units()))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("left", "right")
        assert drawn(app) == NO_SET


async def test_missing_readings_are_named() -> None:
    facts = {name: value for name, value in FULL.items() if name != "loaded.high_side"}
    app = BareApp(CycleScreen(sample.walk(facts), Units()))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert drawn(app) == "High-side gauge is missing in Load raised: the picture needs both sides."


@pytest.mark.parametrize("theme", themes.NAMES)
async def test_it_survives_one_cell_and_back_in_every_theme(theme: str) -> None:
    app = BareApp(CycleScreen(sample.walk(FULL), Units()), theme)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        before = drawn(app)
        for size in ((1, 1), (40, 15), (160, 50), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert drawn(app) == before


async def test_short_terminals_scroll_to_the_rest() -> None:
    app = BareApp(CycleScreen(sample.walk(FULL), Units()))
    async with app.run_test(size=(40, 15)) as pilot:
        await pilot.pause()
        await pilot.press("end")
        await pilot.pause()
        body = app.screen.query_one("#cycle-body")
        assert body.max_scroll_y > 0
        assert body.scroll_offset.y == body.max_scroll_y
