"""What the pressure-enthalpy picture is made of, and the sentences where there is none."""

from __future__ import annotations

import pytest

from engine.job.picture import NoPicture, picture, running_sets
from tests.tui import sample

FULL = {
    **sample.FACTS,
    "loaded.suction_line_temperature": sample.deg_f(52),
    "loaded.liquid_line_temperature": sample.deg_f(110),
}


def test_sets_at_rest_have_no_cycle() -> None:
    assert running_sets(sample.walk()) == ("baseline", "loaded")


def test_corners_lie_at_both_gauge_pressures_above_the_air() -> None:
    drawn = picture(sample.walk(FULL), "loaded")
    pressures = {point.name: point.pressure for point in drawn.points}
    # 30 and 215 psi gauge, plus the standard atmosphere of 101325 Pa
    assert pressures["suction"] == pytest.approx(30 * 6894.757 + 101325, abs=1)
    assert pressures["condenser outlet"] == pytest.approx(215 * 6894.757 + 101325, abs=1)
    assert drawn.assumed == ("The refrigerant's identity is not proved: all of this rests on it.",)


def test_the_air_at_an_elevation_counts() -> None:
    drawn = picture(sample.walk({**FULL, "barometric_pressure": 84000.0}), "loaded")
    assert drawn.points[0].pressure == pytest.approx(30 * 6894.757 + 84000, abs=1)


def test_what_was_not_read_is_said() -> None:
    drawn = picture(sample.walk(), "loaded")
    assert drawn.superheat is None
    assert drawn.subcooling is None
    assert "Suction-line temperature not taken" in drawn.assumed[0]
    assert "Liquid-line temperature not taken" in drawn.assumed[1]


def test_a_suction_line_colder_than_dew_is_drawn_on_the_dome_and_said() -> None:
    drawn = picture(sample.walk({**FULL, "loaded.suction_line_temperature": sample.deg_f(25)}), "loaded")
    assert drawn.superheat is not None
    assert drawn.superheat < 0
    assert any("colder than dew" in note for note in drawn.assumed)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"refrigerant": None}, "The refrigerant is not known yet"),
        ({"refrigerant": "R-744"}, "no picture for R-744"),
        ({"loaded.high_side": None}, "High-side gauge is missing in Load raised"),
        ({"contamination": frozenset({"air"})}, "The contents are not proper R-134a"),
        ({"loaded.high_side": sample.psi(20)}, "the high side is not above the low side"),
        ({"loaded.high_side": sample.psi(900)}, "900 psi is above the table"),
    ],
)
def test_a_sentence_says_what_is_missing(changes: dict[str, object], sentence: str) -> None:
    facts = {name: value for name, value in {**FULL, **changes}.items() if value is not None}
    with pytest.raises(NoPicture, match=sentence):
        picture(sample.walk(facts), "loaded")  # type: ignore[arg-type]
