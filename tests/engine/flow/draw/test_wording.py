"""Conditions as a person would say them."""

import pytest

from engine.flow.draw.wording import Wording
from tests.engine.flow.small import load

WORDING = Wording(load())


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        ("fan is stopped", "Fan is Stopped"),
        ("contamination is sealant|air", "Contamination is Sealant or Air"),
        ("known loaded.duty", "Duty (Loaded) is known"),
        ("not known high_side_limit", "Limit is not known"),
        ("not (fan is runs)", "not (Fan is Runs)"),
        ("ambient_temperature < 18 degC", "Ambient under 18 degC"),
        ("baseline.low_side <= 30 psi", "Low side (Baseline) at most 30 psi"),
        (
            "loaded.high_side - baseline.high_side >= 15 psi and loaded.duty > 5 percent",
            "High side (Loaded) minus High side (Baseline) at least 15 psi and Duty (Loaded) over 5 percent",
        ),
        ("fan is runs or fan is stopped and known fan", "Fan is Runs or Fan is Stopped and Fan is known"),
    ],
)
def test_in_words(condition: str, said: str) -> None:
    assert WORDING.condition(condition) == said


def test_a_computed_name_goes_by_its_label() -> None:
    assert WORDING.condition("loaded.command_state is ceiling") != "loaded.command_state is ceiling"
    assert WORDING.condition("loaded.command_state is ceiling").endswith("(Loaded) is ceiling")


def test_what_is_no_condition_is_shown_as_it_is() -> None:
    assert WORDING.condition("a = b") == "a = b"
    assert WORDING.condition("nobody.knows this") == "nobody.knows this"
