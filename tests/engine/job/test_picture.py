"""What the pressure-enthalpy picture is made of, and the sentences where there is none."""

from __future__ import annotations

import pytest

from engine.job.picture import NoPicture, picture, running_sets, telling_set
from engine.job.state import Prompt
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


@pytest.mark.parametrize(
    ("missing", "sentence"),
    [
        (("suction", "liquid"), "Line temperatures not taken: drawn without superheat and subcooling."),
        (
            ("suction",),
            "Suction-line temperature not taken: the compressor's inlet is drawn without superheat.",
        ),
        (
            ("liquid",),
            "Liquid-line temperature not taken: the condenser's outlet is drawn without subcooling.",
        ),
    ],
)
def test_what_was_not_read_is_said(missing: tuple[str, ...], sentence: str) -> None:
    left_out = [f"loaded.{line}_line_temperature" for line in missing]
    drawn = picture(sample.walk({name: FULL[name] for name in FULL if name not in left_out}), "loaded")
    assert drawn.assumed[0] == sentence
    assert (drawn.superheat is None) is ("suction" in missing)
    assert (drawn.subcooling is None) is ("liquid" in missing)


def test_the_outlets_stand_in_for_lines_that_were_not_taken() -> None:
    outlets = {
        **sample.FACTS,
        "loaded.evaporator_outlet_temperature": FULL["loaded.suction_line_temperature"],
        "loaded.condenser_outlet_temperature": FULL["loaded.liquid_line_temperature"],
    }
    drawn, lines = picture(sample.walk(outlets), "loaded"), picture(sample.walk(FULL), "loaded")
    assert (drawn.superheat, drawn.subcooling) == (lines.superheat, lines.subcooling)
    assert drawn.points == lines.points
    assert drawn.assumed[:2] == (
        "Suction-line temperature not taken: the evaporator's outlet stands in for it.",
        "Liquid-line temperature not taken: the condenser's outlet stands in for it.",
    )
    assert telling_set(sample.walk({**outlets, "baseline.suction_line_temperature": 290.0})) == "loaded"


def test_the_set_shown_first_is_the_newest_with_its_superheat() -> None:
    assert (
        telling_set(sample.walk({**sample.FACTS, "baseline.suction_line_temperature": 290.0})) == "baseline"
    )
    assert telling_set(sample.walk(FULL)) == "loaded"
    assert telling_set(sample.walk()) == "loaded"
    assert telling_set(sample.walk({}, prompt=Prompt("weather", 1, "refrigerant"))) is None


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
