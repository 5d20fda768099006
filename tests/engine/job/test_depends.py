"""What a condition rests on, through computed readings."""

from __future__ import annotations

from engine.flow.model import SetState, Step
from engine.job.depends import readings_asked, rests_on, typed_readings

from .little import both, flow, is_, over, to


def test_a_typed_reading_rests_on_itself() -> None:
    assert typed_readings("loaded.low_side") == {"loaded.low_side"}


def test_a_computed_reading_rests_on_what_it_is_computed_from() -> None:
    assert typed_readings("loaded.sides_apart") == {
        "loaded.sides_apart",
        "loaded.high_side",
        "loaded.low_side",
    }


def test_a_band_rests_on_the_command_and_so_on_the_meter() -> None:
    behind = typed_readings("loaded.low_side_band")
    assert {
        "loaded.low_side",
        "refrigerant",
        "loaded.scan_command",
        "loaded.duty_displayed",
        "meter_edge",
    } <= behind
    assert "baseline.duty" in behind, "the command is judged from the movement among the sets"


def test_a_condition_rests_on_all_its_names() -> None:
    assert rests_on(both(is_("turns", "yes"), over("loaded.low_side", 1.0))) == {"turns", "loaded.low_side"}


def test_the_readings_steps_ask_for_by_full_name() -> None:
    made = flow(
        Step("a", "A", ask=("turns",), next=to("b")),
        Step("b", "B", set="loaded", ask=("turns",), record=("low_side",), end=True),
        sets=(SetState("loaded", "Loaded", "raised"),),
    )
    assert readings_asked(made) == {"turns": "turns", "loaded.low_side": "low_side"}
