"""What people type, and what it means. Expected SI values: by hand, from the units' definitions."""

from __future__ import annotations

import pytest

from engine.physics.quantity import (
    OVER_LIMIT_OHM,
    Kind,
    QuantityError,
    check_possible,
    parse,
    parse_any,
    show,
)

PSI = 6894.757293168  # pascal, NIST SP 811

UNDERSTOOD = [
    # text, kind, unit of a bare number, SI
    ("41", Kind.PRESSURE, "psi", 41 * PSI),
    ("41 psi", Kind.PRESSURE, "kPa", 41 * PSI),
    ("41psi", Kind.PRESSURE, "kPa", 41 * PSI),
    ("41 PSI", Kind.PRESSURE, "kPa", 41 * PSI),
    ("41 psig", Kind.PRESSURE, "kPa", 41 * PSI),
    ("+41 psi", Kind.PRESSURE, "kPa", 41 * PSI),
    ("  41  psi ", Kind.PRESSURE, "kPa", 41 * PSI),
    ("41\u00a0psi", Kind.PRESSURE, "kPa", 41 * PSI),  # no-break space
    ("41\u202fpsi", Kind.PRESSURE, "kPa", 41 * PSI),  # narrow no-break space
    ("2,8 bar", Kind.PRESSURE, "psi", 2.8e5),
    ("2.8 bar", Kind.PRESSURE, "psi", 2.8e5),
    ("2,8", Kind.PRESSURE, "bar", 2.8e5),
    (".5 bar", Kind.PRESSURE, "psi", 0.5e5),
    (",5 bar", Kind.PRESSURE, "psi", 0.5e5),
    ("5. bar", Kind.PRESSURE, "psi", 5e5),
    ("0.8 MPa", Kind.PRESSURE, "psi", 0.8e6),
    ("0.8 mpa", Kind.PRESSURE, "psi", 0.8e6),
    ("0,125 MPa", Kind.PRESSURE, "psi", 0.125e6),  # a leading zero is no thousand
    ("1234,567 kPa", Kind.PRESSURE, "psi", 1234567.0),  # four digits before it: no thousands separator
    ("1.234 bar", Kind.PRESSURE, "psi", 1.234e5),
    ("8 kgf/cm2", Kind.PRESSURE, "psi", 8 * 98066.5),
    ("8 kg/cm²", Kind.PRESSURE, "psi", 8 * 98066.5),
    ("12 inHg vac", Kind.PRESSURE, "psi", -12 * 3386.389),
    ("12 in Hg vac", Kind.PRESSURE, "psi", -12 * 3386.389),
    ("12 INHG VACUUM", Kind.PRESSURE, "psi", -12 * 3386.389),
    ("-5 psi", Kind.PRESSURE, "kPa", -5 * PSI),
    ("\u22125 psi", Kind.PRESSURE, "kPa", -5 * PSI),  # U+2212
    ("- 5 psi", Kind.PRESSURE, "kPa", -5 * PSI),
    ("-0", Kind.PRESSURE, "psi", 0.0),
    ("101.3 kPaa", Kind.ABSOLUTE_PRESSURE, "psia", 101300.0),
    ("14.7 psia", Kind.ABSOLUTE_PRESSURE, "kPaa", 14.7 * PSI),
    ("14.7 psi abs", Kind.ABSOLUTE_PRESSURE, "kPaa", 14.7 * PSI),
    ("1013 hPa", Kind.ABSOLUTE_PRESSURE, "kPaa", 101300.0),
    ("1013 mbar", Kind.ABSOLUTE_PRESSURE, "kPaa", 101300.0),
    ("29.92 inHg", Kind.ABSOLUTE_PRESSURE, "kPaa", 29.92 * 3386.389),
    ("15 psi", Kind.PRESSURE_DIFFERENCE, "kPa", 15 * PSI),
    ("-3 degC", Kind.TEMPERATURE, "degF", 270.15),
    ("\u22123 °C", Kind.TEMPERATURE, "degF", 270.15),
    ("-3 C", Kind.TEMPERATURE, "degF", 270.15),
    ("25 ℃", Kind.TEMPERATURE, "degF", 298.15),
    ("25 ºC", Kind.TEMPERATURE, "degF", 298.15),  # the ordinal sign of some keyboards
    ("64°F", Kind.TEMPERATURE, "degC", 290.9277777777778),
    ("64 F", Kind.TEMPERATURE, "degC", 290.9277777777778),
    ("64 deg F", Kind.TEMPERATURE, "degC", 290.9277777777778),
    ("-40 F", Kind.TEMPERATURE, "degC", 233.15),
    ("300 K", Kind.TEMPERATURE, "degC", 300.0),
    ("9 K", Kind.TEMPERATURE_DIFFERENCE, "degF", 9.0),
    ("9 degC", Kind.TEMPERATURE_DIFFERENCE, "K", 9.0),
    ("9 degF", Kind.TEMPERATURE_DIFFERENCE, "K", 5.0),
    ("-9 degF", Kind.TEMPERATURE_DIFFERENCE, "K", -5.0),
    ("41 %", Kind.RATIO, "percent", 0.41),
    ("41%", Kind.RATIO, "percent", 0.41),
    ("41", Kind.RATIO, "percent", 0.41),
    ("10 points", Kind.RATIO_DIFFERENCE, "points", 0.10),
    ("10.6 ohm", Kind.RESISTANCE, "kohm", 10.6),
    ("10,6 Ω", Kind.RESISTANCE, "kohm", 10.6),  # Greek capital omega
    ("10.6 \u2126", Kind.RESISTANCE, "kohm", 10.6),  # the ohm sign
    ("1.5 kΩ", Kind.RESISTANCE, "ohm", 1500.0),
    ("1.5 k ohm", Kind.RESISTANCE, "ohm", 1500.0),
    ("2 MΩ", Kind.RESISTANCE, "ohm", 2e6),
    ("2 Mohm", Kind.RESISTANCE, "ohm", 2e6),
    ("OL", Kind.RESISTANCE, "ohm", OVER_LIMIT_OHM),
    ("O.L", Kind.RESISTANCE, "ohm", OVER_LIMIT_OHM),
    ("13,5 V", Kind.VOLTAGE, "V", 13.5),
    ("650 mA", Kind.CURRENT, "A", 0.65),
    ("0.65", Kind.CURRENT, "A", 0.65),
    ("400 Hz", Kind.FREQUENCY, "Hz", 400.0),
    ("0.4 kHz", Kind.FREQUENCY, "Hz", 400.0),
    ("1500 1/min", Kind.SPEED, "1/min", 25.0),
    ("1500 rpm", Kind.SPEED, "1/min", 25.0),
    ("1500", Kind.SPEED, "1/min", 25.0),
    ("550 g", Kind.MASS, "kg", 0.55),
    ("16 oz", Kind.MASS, "g", 0.45359237),
    ("1 lb", Kind.MASS, "g", 0.45359237),
    ("1600 m", Kind.LENGTH, "ft", 1600.0),
    ("5000 ft", Kind.LENGTH, "m", 1524.0),
    ("3 min", Kind.TIME, "s", 180.0),
    ("20 s", Kind.TIME, "min", 20.0),
    ("3.4", Kind.NUMBER, "1", 3.4),
]


@pytest.mark.parametrize(("text", "kind", "unit", "si"), UNDERSTOOD)
def test_understood(text: str, kind: Kind, unit: str, si: float) -> None:
    parsed = parse(text, kind, unit)
    assert parsed.si == pytest.approx(si, rel=1e-14, abs=1e-12)
    assert parsed.kind is kind
    assert parsed.text == text


REFUSED = [
    # text, kind, words the sentence must contain
    ("1,234.5", Kind.PRESSURE, ["1234.5"]),
    ("1.234,5", Kind.PRESSURE, ["thousands"]),
    ("1,234,567", Kind.PRESSURE, ["thousands"]),
    ("1,234", Kind.PRESSURE, ["1.234", "1234"]),
    ("12,345 kPa", Kind.PRESSURE, ["12.345", "12345"]),
    ("1 234", Kind.PRESSURE, ["thousands"]),
    ("1'234", Kind.PRESSURE, ["thousands"]),
    ("1_000", Kind.PRESSURE, ["thousands"]),
    ("41-45 psi", Kind.PRESSURE, ["one plain number"]),
    ("--3", Kind.PRESSURE, ["number"]),
    ("1e3", Kind.PRESSURE, ["exponent", "1000"]),
    ("1E3 psi", Kind.PRESSURE, ["exponent"]),
    ("2,5e-1", Kind.PRESSURE, ["exponent"]),
    ("nan", Kind.PRESSURE, ["not a measured number"]),
    ("NaN psi", Kind.PRESSURE, ["not a measured number"]),
    ("inf", Kind.PRESSURE, ["not a measured number"]),
    ("-Infinity", Kind.PRESSURE, ["not a measured number"]),
    ("∞", Kind.PRESSURE, ["not a measured number"]),
    ("٤١", Kind.PRESSURE, ["0 to 9"]),  # Arabic-Indic
    ("４１", Kind.PRESSURE, ["0 to 9"]),  # full width
    ("४१ psi", Kind.PRESSURE, ["0 to 9"]),  # Devanagari
    ("½ bar", Kind.PRESSURE, ["0 to 9"]),
    ("", Kind.PRESSURE, ["cannot be measured"]),
    ("   ", Kind.PRESSURE, ["cannot be measured"]),
    ("psi", Kind.PRESSURE, ["begin with a number"]),
    (".", Kind.PRESSURE, ["begin with a number"]),
    ("0x10", Kind.PRESSURE, ["no unit known"]),
    ("forty", Kind.PRESSURE, ["begin with a number"]),
    ("41 furlongs", Kind.PRESSURE, ["furlongs", "psi, bar, kPa"]),
    ("64 F", Kind.PRESSURE, ["that is a temperature", "gauge pressure"]),
    ("41 psi", Kind.TEMPERATURE, ["that is a gauge pressure", "a temperature", "degC or degF"]),
    ("55 psia", Kind.PRESSURE, ["absolute pressure", "gauge pressure"]),
    ("1 bara", Kind.PRESSURE, ["absolute pressure", "gauge pressure"]),
    ("14.7 psi", Kind.ABSOLUTE_PRESSURE, ["gauge pressure", "absolute pressure", "psia"]),
    ("29.9 inHg", Kind.PRESSURE, ["inHg vac"]),
    ("-12 inHg vac", Kind.PRESSURE, ["write 12 inHg vac"]),
    ("2 mΩ", Kind.RESISTANCE, ["milliohm or megohm"]),
    ("2 mohm", Kind.RESISTANCE, ["milliohm or megohm"]),
    ("OL", Kind.VOLTAGE, ["begin with a number"]),
    ("10 %", Kind.RATIO_DIFFERENCE, ["points"]),
    ("10.6 V", Kind.RESISTANCE, ["that is a voltage", "a resistance"]),
    ("1234567890123456", Kind.PRESSURE, ["digits"]),
    ("0.1234567890123456", Kind.PRESSURE, ["digits"]),
    ("10000000000", Kind.PRESSURE, ["larger than anything"]),
    ("9" * 400, Kind.PRESSURE, ["too long"]),
    ("41 " + "psi " * 30, Kind.PRESSURE, ["too long"]),
    ("41 \x1b[31mpsi", Kind.PRESSURE, ["no unit known"]),
    ("41 [bold]psi[/bold]", Kind.PRESSURE, ["no unit known"]),
]


@pytest.mark.parametrize(("text", "kind", "words"), REFUSED)
def test_refused_with_one_sentence(text: str, kind: Kind, words: list[str]) -> None:
    default = {Kind.TEMPERATURE: "degC", Kind.PRESSURE: "psi", Kind.ABSOLUTE_PRESSURE: "kPaa"}
    unit = default.get(kind) or {"resistance": "ohm", "voltage": "V", "ratio_difference": "points"}[kind]
    with pytest.raises(QuantityError) as refused:
        parse(text, kind, unit)
    sentence = str(refused.value)
    assert sentence.endswith(".")
    assert len(sentence) < 240
    assert sentence.isprintable(), "control codes must not come back at the reader"
    for word in words:
        assert word in sentence


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("40 psi", Kind.PRESSURE, 40 * PSI),
        ("40 psia", Kind.ABSOLUTE_PRESSURE, 40 * PSI),
        ("12 inHg vac", Kind.PRESSURE, -12 * 3386.389),
        ("20 degF", Kind.TEMPERATURE, 266.4833333333333),
        ("50 %", Kind.RATIO, 0.5),
        ("3 points", Kind.RATIO_DIFFERENCE, 0.03),
        ("OL", Kind.RESISTANCE, OVER_LIMIT_OHM),
        ("3 min", Kind.TIME, 180.0),
    ],
)
def test_unit_decides_the_kind(text: str, kind: Kind, si: float) -> None:
    parsed = parse_any(text)
    assert parsed.kind is kind
    assert parsed.si == pytest.approx(si, rel=1e-14)


@pytest.mark.parametrize("text", ["40", "40 furlongs", "1e3 psi", "2 mohm"])
def test_parse_any_refuses(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_any(text)


def test_a_wrong_default_unit_is_a_mistake_of_ours() -> None:
    with pytest.raises(ValueError, match="no unit of pressure") as mistake:
        parse("41", Kind.PRESSURE, "degC")
    assert not isinstance(mistake.value, QuantityError)


@pytest.mark.parametrize(
    ("si", "kind", "unit", "text"),
    [
        (41 * PSI, Kind.PRESSURE, "psi", "41 psi"),
        (41.26 * PSI, Kind.PRESSURE, "psi", "41.3 psi"),
        (2.8e5, Kind.PRESSURE, "bar", "2.8 bar"),
        (-12 * 3386.389, Kind.PRESSURE, "inHg vac", "12 inHg vac"),
        (10 * PSI, Kind.PRESSURE, "inHg vac", "10 psi"),  # a compound gauge has no negative vacuum
        (270.15, Kind.TEMPERATURE, "degC", "-3 degC"),
        (273.15 - 0.01, Kind.TEMPERATURE, "degC", "0 degC"),  # never -0
        (20.0, Kind.TEMPERATURE_DIFFERENCE, "degF", "36 degF"),
        (0.41, Kind.RATIO, "percent", "41 percent"),
        (-0.05, Kind.RATIO_DIFFERENCE, "points", "-5 points"),
        (25.0, Kind.SPEED, "1/min", "1500 1/min"),
        (10.6, Kind.RESISTANCE, "ohm", "10.6 ohm"),
        (OVER_LIMIT_OHM, Kind.RESISTANCE, "ohm", "OL"),
        (100.0, Kind.LENGTH, "m", "100 m"),  # zeros before the point stay
        (0.55, Kind.MASS, "g", "550 g"),
        (3.456, Kind.NUMBER, "1", "3.46"),
    ],
)
def test_shown(si: float, kind: Kind, unit: str, text: str) -> None:
    assert show(si, kind, unit) == text


@pytest.mark.parametrize(
    ("si", "kind", "possible"),
    [
        (-101325.0, Kind.PRESSURE, True),
        (-103000.0, Kind.PRESSURE, False),
        (0.0, Kind.TEMPERATURE, False),
        (233.15, Kind.TEMPERATURE, True),
        (1.0, Kind.RATIO, True),
        (1.01, Kind.RATIO, False),
        (-0.01, Kind.RATIO, False),
        (-5.0, Kind.TEMPERATURE_DIFFERENCE, True),
        (-0.1, Kind.RESISTANCE, False),
        (-1.0, Kind.SPEED, False),
        (-1.0, Kind.CURRENT, True),  # a clamp the other way round
        (-1.0, Kind.VOLTAGE, True),
    ],
)
def test_impossible_values(si: float, kind: Kind, possible: bool) -> None:
    sentence = check_possible(si, kind)
    assert (sentence is None) is possible
    assert possible or sentence.endswith(".")


def test_a_perfect_vacuum_is_nearer_to_zero_on_a_mountain() -> None:
    assert check_possible(-90e3, Kind.PRESSURE) is None
    sentence = check_possible(-90e3, Kind.PRESSURE, atmosphere_pa=79495.0)  # 2000 m
    assert sentence is not None
    assert "-11.5 psi" in sentence
