"""Sentences that no flow may say, words that a class does not want, and NOTICE where people can be hurt."""

from __future__ import annotations

from pathlib import Path

import pytest

from engine.flow.lint.wording import bypasses, vents
from engine.flow.lint.words import WordsError, read_words
from tests.engine.flow.lint.clean import CLEAN, told, told_of
from tests.engine.flow.small import changed, spot


@pytest.mark.parametrize(
    "sentence",
    [
        "Vent the refrigerant into a bucket.",
        "Vent the system.",
        "If no machine is at hand, vent the charge outside.",
        "Purge the hoses with a little refrigerant.",
        "Bleed off the excess charge.",
        "Crack the fitting and let the gas out.",
        "Let all of the remaining refrigerant out.",
        "Release the charge slowly to the atmosphere.",
        "Blow it off before you open the line.",
        "Then blow off the rest of the charge.",
        "Dump the old refrigerant.",
    ],
)
def test_sentences_that_tell_to_vent(sentence: str) -> None:
    assert vents(sentence)
    assert [rule for rule, _ in told_of(("do: Look at the car.", f"do: {sentence}"))] == ["tells-to-vent"]


@pytest.mark.parametrize(
    "sentence",
    [
        "Never vent the refrigerant.",
        "Do not vent the charge into the air.",
        "Venting the refrigerant is unlawful in many places.",
        "Feel the air at the vent.",
        "Compare the vents left and right.",
        "Let the engine run until it is warm.",
        "Wait until the machine has emptied the hoses, then take them off.",
        "Release the button.",
        "The hoses are emptied by machine, never into the air.",
        "Discharge temperature is read at the compressor.",
    ],
)
def test_sentences_that_do_not(sentence: str) -> None:
    assert not vents(sentence)
    assert "tells-to-vent" not in [rule for rule, _ in told_of(("do: Look at the car.", f"do: {sentence}"))]


@pytest.mark.parametrize(
    "sentence",
    [
        "Bridge the low-pressure switch with a wire.",
        "Jumper the switch to see whether the clutch engages.",
        "Bypass the high-pressure cut-out.",
        "If the switch is open, bypass the pressure switch.",
        "Disable the interlock of the door.",
        "Wire around the thermal switch.",
        "Tape down the safety.",
    ],
)
def test_sentences_that_tell_to_bypass(sentence: str) -> None:
    assert bypasses(sentence)
    assert [rule for rule, _ in told_of(("do: Look at the car.", f"do: '{sentence}'"))] == ["tells-to-bypass"]


@pytest.mark.parametrize(
    "sentence",
    [
        "Never bridge a pressure switch or remove a relief.",
        "Measure the pressure switch.",
        "Replace the high-pressure switch.",
        "Look for a bridge over the river.",
        "Without bypassing any safety switch, read the code.",
        "The bypass valve of the heater stays shut.",
    ],
)
def test_sentences_that_tell_no_such_thing(sentence: str) -> None:
    assert not bypasses(sentence)


def test_texts_of_every_section_are_read() -> None:
    text = changed(
        ("about: A made-up flow for tests.", "about: Vent the charge."),
        ("text: Belts catch sleeves.", "text: Vent the charge."),
        ("says: the high side rose", "says: vent the charge"),
        ("means: It works.", "means: Vent the charge."),
        ("label: Gap,", "label: Vent the charge,"),
        text=CLEAN,
    )
    assert [one.rule for one in told(text)] == ["tells-to-vent"] * 5


def test_the_place_is_where_the_sentence_begins() -> None:
    text = changed(("do: Look at the car.", "do: Look at the car. Vent the charge."), text=CLEAN)
    (only,) = told(text)
    assert (only.line, only.column) == spot(text, "Vent the charge.")


@pytest.mark.parametrize(
    "injury", ["It can burn skin.", "It may kill.", "Vapour suffocates.", "It blinds an eye."]
)
def test_notice_for_injury(injury: str) -> None:
    change = ("text: Recover what is inside.", f"text: {injury}")
    assert [rule for rule, _ in told_of(change)] == ["notice-for-injury"]
    assert (
        told_of((f"signal: NOTICE, {'text: Recover what is inside.'}", f"signal: WARNING, text: {injury}"))
        == []
    )


def test_notice_without_injury() -> None:
    assert told_of(("text: Recover what is inside.", "text: A dirty hose spoils the machine.")) == []


# --- words of a class


def test_a_word_that_is_not_wanted_wherever_it_stands() -> None:
    text = changed(
        ("title: Does it answer the load?", "title: Does the Coldomat answer?"),
        (
            "  fine: {title: Fine",
            "  # the Coldomat again: comments are nobody's reading\n  fine: {title: Fine",
        ),
        ("label: Belt,", "label: Belt,")
        if "label: Belt," in CLEAN
        else ("belt: Belt,", "belt: 'Belt, coldomat  drive',"),
        text=CLEAN,
    )
    found = told(text, words=("Coldomat", "coldomat drive"))
    assert [(one.rule, one.what) for one in found] == [
        ("unwanted-word", "'Coldomat' is on the list of words not wanted"),
        ("unwanted-word", "'coldomat  drive' is on the list of words not wanted"),
    ]
    assert (found[0].line, found[0].column) == spot(text, "Coldomat answer")


def test_a_word_within_another_is_another_word() -> None:
    assert told(CLEAN, words=("ook", "lo")) == []


def test_none_is_shipped() -> None:
    assert told(CLEAN) == []


def test_a_list_of_words(tmp_path: Path) -> None:
    path = tmp_path / "words.txt"
    path.write_text("# brands\nColdomat\n\n  Ice  Maker  # two words\nColdomat\n", encoding="utf-8")
    assert read_words(path) == ("Coldomat", "Ice Maker")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"\xff\xfe\x00", "not UTF-8"),
        (b"x" * 200, "longer than 100"),
        (b"a b\n" * 60_000, "more than 100 kB"),
    ],
)
def test_lists_that_cannot_be_used(tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "words.txt"
    path.write_bytes(content)
    with pytest.raises(WordsError, match=said):
        read_words(path)


def test_a_list_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(WordsError, match="cannot be read"):
        read_words(tmp_path / "none.txt")
