"""The board's model: which sets, which rows, what stands in a cell, how a value moved."""

from __future__ import annotations

import pytest

from engine.flow.model import ITEM_BEGIN
from engine.job.compare import (
    CANNOT_MEASURE,
    DOWN,
    KNOWN,
    NOT_ASKED,
    NOW,
    SAME,
    UP,
    BoardModel,
    Cell,
    Row,
    board,
    moved,
)
from engine.job.events import SET_BEGUN
from engine.job.state import Answer, Prompt
from engine.physics.quantity import Kind
from tests.tui import sample


def row(model: BoardModel, name: str) -> Row:
    return next(row for row in model.rows if row.name == name)


def cell(model: BoardModel, name: str, set_name: str) -> Cell:
    place = [column.name for column in model.columns].index(set_name)
    return row(model, name).cells[place]


def test_sets_begun_stand_in_the_flows_order_whatever_order_they_were_taken_in() -> None:
    facts = {"loaded.low_side": 1e5, "static.low_side": 5e5}
    model = board(sample.walk(facts, prompt=Prompt("weather", 1, "refrigerant")))
    assert [column.name for column in model.columns] == ["static", "loaded"]


def test_the_set_being_taken_has_a_column_before_anything_is_read_in_it() -> None:
    begun = {("lower-load", 1, ITEM_BEGIN): Answer(SET_BEGUN, ("lower-load", 1, ITEM_BEGIN))}
    model = board(sample.walk({}, prompt=Prompt("lower-load", 1, "low_side"), answered=begun))
    assert [(column.name, column.current) for column in model.columns] == [("unloaded", True)]
    assert cell(model, "low_side", "unloaded").state == NOW


def test_a_board_without_sets_is_empty_but_knows_the_facts() -> None:
    model = board(sample.walk({"ambient_temperature": 300.0}, prompt=Prompt("weather", 1, "refrigerant")))
    assert model.columns == ()
    assert model.rows == ()
    assert [fact.name for fact in model.facts] == ["ambient_temperature"]


def test_an_unkept_settle_time_is_early_and_an_unknown_one_is_not() -> None:
    model = board(sample.walk())
    assert {column.name: column.early for column in model.columns} == {
        "static": False,
        "baseline": True,
        "loaded": False,
    }


def test_cells_tell_not_asked_from_cannot_measure() -> None:
    model = board(sample.walk(unknown=("static.vent_temperature",)))
    assert cell(model, "vent_temperature", "static").state == CANNOT_MEASURE
    assert cell(model, "duty", "static").state == NOT_ASKED
    assert cell(model, "duty", "loaded").state == KNOWN


def test_a_computed_value_is_unmeasurable_when_one_of_its_readings_is() -> None:
    facts = {**sample.FACTS, "loaded.suction_line_temperature": sample.deg_f(60)}
    model = board(sample.walk(facts, unknown=("baseline.suction_line_temperature",)))
    assert cell(model, "superheat", "baseline").state == CANNOT_MEASURE
    assert cell(model, "superheat", "loaded").state == KNOWN


def test_a_computed_row_without_any_value_is_left_out() -> None:
    model = board(sample.walk(unknown=("loaded.suction_line_temperature",)))
    assert "superheat" not in [row.name for row in model.rows]
    assert row(model, "suction_line_temperature").cells[-1].state == CANNOT_MEASURE


def test_at_rest_nothing_of_the_cycle_is_computed() -> None:
    model = board(sample.walk())
    assert cell(model, "pressure_ratio", "static").state == NOT_ASKED
    assert cell(model, "condensing_temperature", "static").state == NOT_ASKED


def test_superheat_is_the_suction_line_over_the_dew_temperature() -> None:
    # R-134a boils at 4 degC under 337.7 kPa absolute: 0.1 kPa table of undergraduate thermodynamics, as in
    # tests/published. At sea level (101.325 kPa) and with the line at 14 degC that makes 10 K.
    facts = {
        **sample.FACTS,
        "loaded.low_side": 337.7e3 - 101.325e3,
        "loaded.suction_line_temperature": 273.15 + 14.0,
    }
    value = cell(board(sample.walk(facts)), "superheat", "loaded").value
    assert value == pytest.approx(10.0, abs=0.02)


def test_values_move_against_the_compared_set_only() -> None:
    model = board(sample.walk())
    high = cell(model, "high_side", "loaded")
    assert high.move is not None
    assert (high.move.direction, high.move.kind) == (UP, Kind.PRESSURE_DIFFERENCE)
    assert high.move.by == pytest.approx(sample.psi(215) - sample.psi(175))
    assert cell(model, "high_side", "baseline").move is None


def test_there_is_no_arrow_while_the_compared_set_lacks_the_value() -> None:
    facts = {name: value for name, value in sample.FACTS.items() if name != "baseline.high_side"}
    assert cell(board(sample.walk(facts)), "high_side", "loaded").move is None


def test_words_do_not_move() -> None:
    facts = {**sample.FACTS, "baseline.scan_command": "part", "loaded.scan_command": "maximum"}
    assert cell(board(sample.walk(facts)), "scan_command", "loaded").move is None


def test_band_words_stand_with_their_reading() -> None:
    facts = {**sample.FACTS, "loaded.high_side_band": "low"}
    assert cell(board(sample.walk(facts)), "high_side", "loaded").band == "low"
    assert "high_side_band" not in [row.name for row in board(sample.walk(facts)).rows]


def test_at_rest_there_is_no_band() -> None:
    facts = {**sample.FACTS, "static.low_side_band": "normal"}
    assert cell(board(sample.walk(facts)), "low_side", "static").band is None


def test_what_no_set_could_measure_stands_last() -> None:
    model = board(sample.walk(unknown=("baseline.engine_speed", "loaded.engine_speed")))
    assert model.rows[-1].name == "engine_speed"


def test_low_side_high_side_duty_and_command_stand_first() -> None:
    facts = {**sample.FACTS, "loaded.command_state": "ceiling", "loaded.engine_speed": 25.0}
    names = [row.name for row in board(sample.walk(facts)).rows]
    assert names[:4] == ["low_side", "high_side", "duty", "command_state"]
    assert names.index("engine_speed") > names.index("pressure_ratio")


def test_a_fact_that_cannot_be_measured_is_told_as_such() -> None:
    facts = board(sample.walk(unknown=("ambient_temperature",), facts={"loaded.low_side": 1e5})).facts
    assert [(fact.name, fact.value) for fact in facts] == [("ambient_temperature", None)]


@pytest.mark.parametrize(
    ("kind", "before", "after", "direction", "by"),
    [
        (Kind.TEMPERATURE, 283.15, 285.15, UP, 2.0),  # a difference in kelvin: no 273.15 in it
        (Kind.TEMPERATURE, 285.15, 283.15, DOWN, -2.0),
        (Kind.TEMPERATURE, 283.15, 283.55, SAME, 0.4),  # under the settle rule's 0.5 K
        (Kind.TEMPERATURE_DIFFERENCE, 5.0, 8.0, UP, 3.0),
        (Kind.RATIO, 0.45, 0.47, SAME, 0.02),  # two points are within the meter
        (Kind.RATIO, 0.45, 0.55, UP, 0.10),
        (Kind.PRESSURE, 200e3, 213e3, SAME, 13e3),  # 13 kPa is 1.9 psi
        (Kind.PRESSURE, 200e3, 214e3, UP, 14e3),  # 14 kPa is 2.03 psi
        (Kind.NUMBER, 4.0, 4.05, SAME, 0.05),  # two hundredths of 4.0 is 0.08
        (Kind.NUMBER, 4.0, 3.9, DOWN, -0.1),
    ],
)
def test_movement_is_what_exceeds_the_readings_own_unrest(
    kind: Kind, before: float, after: float, direction: str, by: float
) -> None:
    move = moved(kind, before, after)
    assert move.direction == direction
    assert move.by == pytest.approx(by)


@pytest.mark.parametrize(
    ("kind", "difference"),
    [
        (Kind.TEMPERATURE, Kind.TEMPERATURE_DIFFERENCE),
        (Kind.PRESSURE, Kind.PRESSURE_DIFFERENCE),
        (Kind.RATIO, Kind.RATIO_DIFFERENCE),
        (Kind.SPEED, Kind.SPEED),
    ],
)
def test_a_change_is_of_the_kind_of_a_difference(kind: Kind, difference: Kind) -> None:
    assert moved(kind, 300.0, 400.0).kind is difference
