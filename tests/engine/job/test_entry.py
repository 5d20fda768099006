"""What people type, understood or refused with a sentence. Conversions by hand: 1 psi = 6894.757 Pa."""

from __future__ import annotations

import pytest

from engine.flow.model import Choice, Range, Reading
from engine.job.entry import Entry, EntryError, read_entry
from engine.physics.quantity import Kind

PSI = 6894.757293168

LOW_SIDE = Reading(
    "low_side",
    "Low-side gauge",
    kind=Kind.PRESSURE,
    unit="psi",
    plausible=Range(-15 * PSI, 160 * PSI),
)
VENT = Reading("vent_temperature", "Vent", kind=Kind.TEMPERATURE, unit="degC")
DUTY = Reading("duty", "Duty", kind=Kind.RATIO, unit="percent", possible=Range(0.0, 1.0))
CURRENT = Reading("current", "Current", kind=Kind.CURRENT, unit="A", possible=Range(0.0, 20.0))
DRIVE = Reading(
    "drive",
    "Drive",
    choices=(Choice("belt", "Belt"), Choice("electric", "Electric motor"), Choice("none", "None")),
)
CONTAMINATION = Reading(
    "contamination",
    "Contamination",
    choices=(
        Choice("none", "None"),
        Choice("air", "Air"),
        Choice("hydrocarbon", "Flammable gas"),
        Choice("other-refrigerant", "Another refrigerant"),
        Choice("sealant", "Sealant"),
    ),
    several=True,
    alone="none",
)


@pytest.mark.parametrize(
    ("text", "unit", "si", "read_in"),
    [
        ("41", "psi", 41 * PSI, "psi"),
        ("41 psi", "bar", 41 * PSI, "psi"),
        ("2,8 bar", "psi", 280e3, "bar"),
        ("2.8", "bar", 280e3, "bar"),
        ("-3", "psi", -3 * PSI, "psi"),
        ("\u22123", "psi", -3 * PSI, "psi"),
    ],
)
def test_a_bare_number_takes_the_shown_unit(text: str, unit: str, si: float, read_in: str) -> None:
    entry = read_entry(LOW_SIDE, text, unit)
    assert entry.value == pytest.approx(si)
    assert (entry.unit, entry.text, entry.implausible) == (read_in, text, None)


@pytest.mark.parametrize(
    ("text", "unit", "echo"),
    [
        ("2.5", "bar", "2.5 bar gauge = 3.5 bar absolute"),
        ("2,5 bar", "psi", "2.5 bar gauge = 36.3 psi gauge = 50.8 psi absolute"),
        ("20 inHg vac", "kPa", "20 inHg vac gauge = -68 kPa gauge = 32 kPa absolute"),
    ],
)
def test_a_gauge_pressure_is_echoed_with_its_absolute(text: str, unit: str, echo: str) -> None:
    """In air of 1 bar. 2.5 bar is 36.26 psi, 3.5 bar is 50.76 psi; 20 inHg is 67.7 kPa."""
    assert read_entry(LOW_SIDE, text, unit, 1e5).echo == echo


def test_the_absolute_follows_the_air_of_the_place() -> None:
    assert read_entry(LOW_SIDE, "2.5 bar", "bar", 80e3).echo == "2.5 bar gauge = 3.3 bar absolute"


def test_a_temperature_typed_in_another_unit_is_echoed_in_both() -> None:
    assert read_entry(VENT, "50°F", "degC").echo == "50 degF = 10 degC"
    assert read_entry(VENT, "10", "degC").echo == "10 degC"


def test_an_implausible_value_is_taken_and_doubted_in_the_shown_unit() -> None:
    entry = read_entry(LOW_SIDE, "200 psi", "psi")
    assert entry.value == pytest.approx(200 * PSI)
    assert entry.implausible == (
        "200 psi is unusual: Low-side gauge is mostly -15 psi to 160 psi. Check the number and its unit."
    )
    in_kpa = read_entry(LOW_SIDE, "200 psi", "kPa").implausible
    assert in_kpa is not None
    assert "-103 kPa to 1103 kPa" in in_kpa  # 15 psi is 103.4 kPa, 160 psi 1103.2 kPa


@pytest.mark.parametrize(
    ("reading", "text", "unit", "says"),
    [
        (LOW_SIDE, "", "psi", "Nothing was typed"),
        (LOW_SIDE, "   ", "psi", "Nothing was typed"),
        (LOW_SIDE, "1,234.5", "psi", "1,234.5"),
        (LOW_SIDE, "1e3", "psi", "1e3"),
        (LOW_SIDE, "nan", "psi", "nan"),
        (LOW_SIDE, "٤١", "psi", "script"),
        (LOW_SIDE, "20 degC", "psi", "temperature"),
        (LOW_SIDE, "-20 psi", "psi", "vacuum"),
        (LOW_SIDE, "4" * 201, "psi", "201 characters"),
        (VENT, "-300", "degC", "absolute zero"),
        (DUTY, "130", "percent", "between 0 and 100 percent"),
        (CURRENT, "30", "A", "Current cannot be 30 A: possible is 0 A to 20 A"),
        (CURRENT, "-1", "A", "Current cannot be -1 A"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(reading: Reading, text: str, unit: str, says: str) -> None:
    with pytest.raises(EntryError) as refused:
        read_entry(reading, text, unit)
    assert says in str(refused.value)
    assert str(refused.value).endswith(".")


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("1", "belt"),
        (" 2 ", "electric"),
        ("belt", "belt"),
        ("BELT", "belt"),
        ("e", "electric"),
        ("electric  motor", "electric"),
        ("Electric m", "electric"),
    ],
)
def test_a_choice_by_number_word_or_beginning(text: str, word: str) -> None:
    entry = read_entry(DRIVE, text, "")
    assert (entry.value, entry.unit, entry.implausible) == (word, "", None)


def test_the_echo_of_a_choice_is_its_label() -> None:
    assert read_entry(DRIVE, "2", "").echo == "Electric motor"
    assert read_entry(CONTAMINATION, "sealant, air", "").echo == "Air, Sealant"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0", "'0' is no choice here"),
        ("4", "type a number or a word of: 1 Belt, 2 Electric motor, 3 None."),
        ("-1", "'-1' is no choice"),
        ("²", "'²' is no choice"),
        ("chain", "'chain' is no choice"),
        ("\x1b[31m", "'?[31m' is no choice"),
    ],
)
def test_what_is_no_choice_is_told_with_the_choices(text: str, says: str) -> None:
    with pytest.raises(EntryError) as refused:
        read_entry(DRIVE, text, "")
    assert says in str(refused.value)


def test_a_beginning_that_fits_two_is_asked_for_its_number() -> None:
    with pytest.raises(EntryError, match=r"more than one choice \(2 Air, 4 Another refrigerant\)"):
        read_entry(CONTAMINATION, "a", "")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1", {"none"}),
        ("2 5", {"air", "sealant"}),
        ("2,5", {"air", "sealant"}),
        ("air, sealant", {"air", "sealant"}),
        ("air seal", {"air", "sealant"}),
        ("another refrigerant", {"other-refrigerant"}),
        ("flammable gas, another refrigerant", {"hydrocarbon", "other-refrigerant"}),
        ("air air", {"air"}),
    ],
)
def test_several_choices_by_commas_or_spaces(text: str, words: set[str]) -> None:
    assert read_entry(CONTAMINATION, text, "").value == frozenset(words)


def test_none_stands_alone() -> None:
    with pytest.raises(EntryError, match="'None' leaves no room for another choice"):
        read_entry(CONTAMINATION, "1, 2", "")


@pytest.mark.parametrize("text", [",", " , ,", "air; sealant"])
def test_several_choices_that_are_none(text: str) -> None:
    with pytest.raises(EntryError, match="no choice here"):
        read_entry(CONTAMINATION, text, "")


def test_an_entry_keeps_the_text_as_typed() -> None:
    assert read_entry(DRIVE, "  BELT ", "") == Entry("belt", "", "  BELT ", None, "Belt")


REFRIGERANT = Reading(
    "refrigerant", "Refrigerant", choices=tuple(Choice(w, w) for w in ("R-134a", "R-1234yf", "other"))
)


@pytest.mark.parametrize("text", ["R-12", "r-13", "R-1", "R-123"])
def test_a_number_is_never_taken_for_the_beginning_of_a_longer_one(text: str) -> None:
    """R-12 is another refrigerant than R-1234yf."""
    with pytest.raises(EntryError):
        read_entry(REFRIGERANT, text, "")


@pytest.mark.parametrize(("text", "word"), [("r-134a", "R-134a"), ("R-1234y", "R-1234yf"), ("ot", "other")])
def test_a_beginning_that_ends_no_number_is_taken(text: str, word: str) -> None:
    assert read_entry(REFRIGERANT, text, "").value == word
