"""The board as a person sees it, at several widths and in several units."""

from __future__ import annotations

import re

import pytest

from engine.flow.model import Reading, Value
from engine.job.compare import board
from engine.job.state import Prompt
from engine.physics.quantity import Kind
from tests.tui import sample
from tests.tui.bare import BareApp
from tui import themes
from tui.units import Units
from tui.widgets.board import NOTHING_YET, Board
from tui.widgets.board_lines import board_lines, fact_lines, narrow_fact_lines, shown_sets
from tui.widgets.board_plan import Drawn, trimmed
from tui.widgets.lines import LineView

BANDS: dict[str, Value] = {"baseline.low_side_band": "normal", "loaded.high_side_band": "low"}
FACTS: dict[str, Value] = {**sample.FACTS, **BANDS}


def drawn(width: int, units: str = "psi degF", facts: dict[str, Value] = FACTS, **walk: object) -> list[str]:
    model = board(sample.walk(facts, **walk))  # type: ignore[arg-type]
    return [line.plain for line in board_lines(model, Units(units), width)]


def line_of(lines: list[str], start: str) -> str:
    return next(line for line in lines if line.startswith(start))


def test_wide_every_set_stands_with_figure_change_and_band_on_one_line() -> None:
    low, high = line_of(drawn(120), "Low-side"), line_of(drawn(120), "High-side")
    assert re.fullmatch(r"Low-side gauge psi\s+88\s+38\s+NORMAL\s+30 ↓8\s*", low)
    assert re.fullmatch(r"High-side gauge psi\s+88\s+175\s+215 ↑40\s+LOW\s*", high)


@pytest.mark.parametrize("units", ["psi degF", "kPa degC", "bar degC"])
def test_in_34_columns_the_set_being_taken_stands_beside_the_one_it_is_compared_with(units: str) -> None:
    lines = drawn(34, units)
    assert max(len(line) for line in lines) <= 34
    assert "◂ 2 of 3 ▸" in lines[0]
    assert "Baseline" in lines[0]
    assert "▸Load" in lines[0]
    assert "At rest" not in lines[0]


def test_narrow_band_words_stand_below_their_figure() -> None:
    lines = drawn(40)
    place = lines.index(line_of(lines, "High side"))
    assert "215↑40" in lines[place]
    assert "LOW" in lines[place + 1]


def test_a_temperature_change_is_a_difference_without_offset() -> None:
    # 50 to 54 degF is a change of 4 degF, not of 4 - 32; in kelvin 2.2.
    assert "54 ↑4" in line_of(drawn(120), "Vent air")
    assert re.search(r"12\.2 ↑2\.2", line_of(drawn(120, "kPa degC"), "Vent air"))


def test_nothing_real_moved_is_an_arrow_to_the_side_and_the_legend_says_so() -> None:
    lines = drawn(120, facts={**FACTS, "loaded.high_side": sample.psi(176)})
    assert "176 →" in line_of(lines, "High-side")
    assert "→ no real change" in lines[-1]


def test_marks_for_not_asked_cannot_measure_and_the_question_asked_now() -> None:
    facts = {name: value for name, value in FACTS.items() if name != "loaded.duty"}
    lines = drawn(120, facts=facts, unknown=("static.duty",), prompt=Prompt("raise-load", 1, "duty"))
    assert re.fullmatch(r"Solenoid duty %\s+\?\s+45\s+…\s*", line_of(lines, "Solenoid duty"))
    assert re.search(r"Vent air °F\s+–\s+50", line_of(lines, "Vent air"))
    assert "? cannot measure" in lines[-1]


def test_a_set_read_before_it_settled_says_early() -> None:
    lines = drawn(120)
    assert lines[1].split() == ["early"]
    assert "early: before it settled" in lines[-1]


def test_the_legend_names_the_compared_set_of_each_set_shown() -> None:
    assert drawn(120)[-1].startswith("Load raised ↑↓ from Baseline")


@pytest.mark.parametrize("width", [1, 5, 12, 20, 30, 34, 40, 60, 80, 130, 200])
def test_any_width_is_drawn_without_a_line_longer_than_it(width: int) -> None:
    lines = drawn(width)
    assert lines
    if width >= 30:
        assert max(len(line) for line in lines) <= width


def test_left_of_the_window_is_what_was_asked_for() -> None:
    model = board(sample.walk(FACTS))
    assert shown_sets(model, Units(), 36) == (1, 2)
    assert shown_sets(model, Units(), 36, 0) == (0, 1)
    assert shown_sets(model, Units(), 36, 9) == (1, 2)


def test_facts_of_the_job_run_on_in_few_lines() -> None:
    facts: dict[str, Value] = {
        **FACTS,
        "contamination": frozenset({"none"}),
        "solenoid_resistance_20": 10.4,
        "solenoid_class": "stroke-coil",
        "static_charge": "liquid",
    }
    lines = [line.plain for line in fact_lines(board(sample.walk(facts)), Units(), 60)]
    assert lines == [
        "ambient 85 °F · R-134a · identity proved",
        "solenoid at 20 °C 10.4 ohm · reads as stroke-coil",
        "at rest liquid",
    ]
    first, rest = narrow_fact_lines(board(sample.walk(facts)), Units(), 36)
    assert [line.plain for line in first] == ["ambient 85 °F · R-134a", "identity proved"]
    # together the last two would take 37 cells
    assert [line.plain for line in rest] == [
        "solenoid at 20 °C 10.4 ohm",
        "reads as stroke-coil",
        "at rest liquid",
    ]


@pytest.mark.parametrize("units", ["psi degF", "kPa degC", "bar degC"])
def test_in_29_columns_figures_are_rounded_so_that_two_sets_fit(units: str) -> None:
    lines = drawn(29, units)
    assert max(len(line) for line in lines) <= 29
    assert "2 of 3" in lines[0]


def test_rounding_leaves_out_decimals_only() -> None:
    # 121.5 and 135.5 degF do not fit four cells: shown without their decimal; 36.5 does.
    assert re.search(r"Cond. at °F\s+12[12]\s+13[56]↑14", line_of(drawn(29), "Cond. at"))
    assert "36.5" in line_of(drawn(29), "Ov. amb.")
    assert trimmed(Drawn("1482", "↑276")) == Drawn("1482", "↑276")
    assert trimmed(Drawn("-12.35", "↓0.06")) == Drawn("-12", "↓0.1")
    assert trimmed(Drawn("ceiling", word=True)) == Drawn("ceiling", word=True)


def test_text_from_a_flow_is_literal_and_cannot_move_the_cursor() -> None:
    hostile = Reading("low_side", "[bold]Low\x1b[2J\n‮side", Kind.PRESSURE, "psi")
    readings = {**sample.flow().readings, "low_side": hostile}
    text = "\n".join(drawn(120, flow=sample.flow(readings=readings)))
    assert "[bold]Low side" in text
    assert "\x1b" not in text
    assert "‮" not in text


async def test_before_any_set_the_board_says_what_will_stand_there() -> None:
    app = BareApp(Board())
    async with app.run_test(size=(40, 24)) as pilot:
        app.query_one(Board).show(sample.walk({}, prompt=Prompt("weather", 1, "refrigerant")), Units())
        await pilot.pause()
        assert app.query_one(LineView).text.replace("\n", " ") == NOTHING_YET


async def test_left_and_right_move_along_the_sets_and_a_new_set_comes_into_view() -> None:
    app = BareApp(Board())
    async with app.run_test(size=(38, 30)) as pilot:
        shown = app.query_one(Board)
        shown.show(sample.walk(FACTS), Units())
        shown.focus()
        await pilot.press("left")
        assert "At rest" in app.query_one(LineView).text
        await pilot.press("right")
        assert "At rest" not in app.query_one(LineView).text
        await pilot.press("left")
        shown.show(sample.walk(FACTS, prompt=Prompt("lower-load", 1, "low_side")), Units())
        await pilot.pause()
        assert "▸Load" in app.query_one(LineView).text
        assert "lowered" in app.query_one(LineView).text


async def test_a_click_on_the_corner_moves_along_the_sets() -> None:
    app = BareApp(Board())
    async with app.run_test(size=(38, 30)) as pilot:
        app.query_one(Board).show(sample.walk(FACTS), Units())
        await pilot.pause()
        view = app.query_one(LineView)
        row = next(y for y, line in enumerate(view.text.splitlines()) if line.startswith("◂ 2 of 3 ▸"))
        await pilot.click(LineView, offset=(0, row))
        assert "At rest" in view.text
        await pilot.click(LineView, offset=(9, row))
        assert "At rest" not in view.text
        await pilot.click(LineView, offset=(9, row + 3))
        assert "At rest" not in view.text


def test_rows_that_tell_of_hidden_sets_only_are_left_out() -> None:
    facts = {**FACTS, "static.engine_speed": 0.0}
    assert any(line.startswith("Speed") for line in drawn(60, facts=facts))
    assert not any(line.startswith("Speed") for line in drawn(36, facts=facts))


@pytest.mark.parametrize("theme", themes.NAMES)
async def test_a_board_survives_one_cell_and_back_in_every_theme(theme: str) -> None:
    app = BareApp(Board(), theme)
    async with app.run_test(size=(80, 24)) as pilot:
        app.query_one(Board).show(sample.walk(FACTS), Units())
        await pilot.pause()
        before = app.query_one(LineView).text
        for size in ((1, 1), (3, 2), (200, 60), (80, 24)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
        assert app.query_one(LineView).text == before
        assert "High side psi" in before
