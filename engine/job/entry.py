"""What a person typed for a reading: understood, echoed, doubted or refused."""

from __future__ import annotations

from dataclasses import dataclass

from engine.flow.model import Choice, Range, Reading, Value
from engine.physics.quantity import Kind, Parsed, QuantityError, check_possible, parse, show

LONGEST = 200
"""Characters an entry may hold; a reading needs far fewer."""


class EntryError(ValueError):
    """The text cannot be taken for the reading; the message is a sentence for the person who typed it."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A text as understood.

    `value` is SI (gauge pressures stay gauge), a word, or a set of words. `unit` is the unit the number was
    read in, empty for choices. `echo` says what was understood; `implausible` is a sentence of doubt, or
    None.
    """

    value: Value
    unit: str
    text: str
    implausible: str | None
    echo: str


def read_entry(reading: Reading, text: str, unit: str, atmosphere_pa: float = 101325.0) -> Entry:
    """The entry that `text` makes for `reading`; a bare number takes `unit`, the one shown beside the field.

    A choice is given by its number (from 1), its word, or the beginning of its word or label if that leaves
    no doubt; several by commas or spaces between. `atmosphere_pa` is the absolute pressure of the air around.
    Raises EntryError.
    """
    if len(text) > LONGEST:
        raise EntryError(f"That is {len(text)} characters; an entry has at most {LONGEST}. Type one value.")
    if not text.strip():
        raise EntryError("Nothing was typed; type a value, or say that it cannot be measured.")
    if reading.kind is None:
        return _several(reading, text) if reading.several else _one(reading, text)
    return _number(reading, reading.kind, text, unit, atmosphere_pa)


def _number(reading: Reading, kind: Kind, text: str, unit: str, atmosphere_pa: float) -> Entry:
    try:
        parsed = parse(text, kind, unit)
    except QuantityError as error:
        raise EntryError(str(error)) from None
    impossible = check_possible(parsed.si, kind, atmosphere_pa)
    if impossible is not None:
        raise EntryError(impossible)
    if reading.possible is not None and not _within(parsed.si, reading.possible):
        raise EntryError(
            f"{reading.label} cannot be {show(parsed.si, kind, parsed.unit)}: possible is "
            f"{_range_words(reading.possible, kind, unit)}. Check the number and its unit."
        )
    return Entry(
        parsed.si, parsed.unit, text, _doubt(reading, parsed, unit), _echo(parsed, unit, atmosphere_pa)
    )


def _within(si: float, allowed: Range) -> bool:
    return allowed.low <= si <= allowed.high


def _range_words(allowed: Range, kind: Kind, unit: str) -> str:
    return f"{show(allowed.low, kind, unit)} to {show(allowed.high, kind, unit)}"


def _doubt(reading: Reading, parsed: Parsed, unit: str) -> str | None:
    if reading.plausible is None or _within(parsed.si, reading.plausible):
        return None
    return (
        f"{show(parsed.si, parsed.kind, parsed.unit)} is unusual: {reading.label} is mostly "
        f"{_range_words(reading.plausible, parsed.kind, unit)}. Check the number and its unit."
    )


def _echo(parsed: Parsed, unit: str, atmosphere_pa: float) -> str:
    """What was understood, also in the shown unit if another was typed; a gauge pressure also as absolute."""
    said = show(parsed.si, parsed.kind, parsed.unit)
    shown = show(parsed.si, parsed.kind, unit)
    other = f" = {shown}" if parsed.unit != unit and shown != said else ""
    if parsed.kind is not Kind.PRESSURE:
        return said + other
    absolute = show(parsed.si + atmosphere_pa, Kind.PRESSURE, unit)
    return f"{said} gauge{other and other + ' gauge'} = {absolute} absolute"


def _one(reading: Reading, text: str) -> Entry:
    choice = _find(reading, text)
    return Entry(choice.word, "", text, None, choice.label)


def _several(reading: Reading, text: str) -> Entry:
    chosen = {choice.word: choice for choice in _find_all(reading, text)}
    if reading.alone in chosen and len(chosen) > 1:
        alone = chosen[reading.alone].label
        raise EntryError(f"'{alone}' leaves no room for another choice; give it alone, or leave it out.")
    labels = [choice.label for choice in reading.choices if choice.word in chosen]
    return Entry(frozenset(chosen), "", text, None, ", ".join(labels))


def _find_all(reading: Reading, text: str) -> list[Choice]:
    """One choice if the whole text is one (labels have spaces), else what stands between commas or spaces."""
    whole = _matches(reading, text)
    if len(whole) == 1:
        return whole
    parts = [part for part in (text.split(",") if "," in text else text.split()) if part.strip()]
    return [_find(reading, part) for part in parts or [text]]


def _find(reading: Reading, text: str) -> Choice:
    found = _matches(reading, text)
    if len(found) == 1:
        return found[0]
    offered = found or reading.choices
    numbered = enumerate(reading.choices, 1)
    options = ", ".join(f"{number} {choice.label}" for number, choice in numbered if choice in offered)
    typed = _quoted(text)
    if found:
        raise EntryError(f"{typed} could be more than one choice ({options}); type its number.")
    raise EntryError(f"{typed} is no choice here; type a number or a word of: {options}.")


def _matches(reading: Reading, text: str) -> list[Choice]:
    """The choices the text may mean: one by its number or in full, perhaps several by their beginning."""
    typed = " ".join(text.split()).casefold()
    if typed.isascii() and typed.isdigit():
        index = int(typed) - 1
        return [reading.choices[index]] if 0 <= index < len(reading.choices) else []
    exact = [choice for choice in reading.choices if typed in _names(choice)]
    if exact:
        return exact[:1]
    return [choice for choice in reading.choices if any(_begins(name, typed) for name in _names(choice))]


def _begins(name: str, typed: str) -> bool:
    """Whether `typed` begins the name, never within a number: R-12 is another refrigerant than R-1234yf."""
    return name.startswith(typed) and not (typed[-1:].isdigit() and name[len(typed) :][:1].isdigit())


def _names(choice: Choice) -> tuple[str, str]:
    return choice.word.casefold(), choice.label.casefold()


def _quoted(text: str) -> str:
    """The text in quotes, control codes made visible."""
    return "'" + "".join(c if c.isprintable() else "?" for c in text.strip()) + "'"
