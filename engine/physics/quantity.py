"""Quantities as people type and read them: text to SI and back.

Everything inside is SI; units exist only here, at the edge. What a number means follows from the `Kind` that
is asked for: `20 degF` as a temperature is 266.5 K, as a temperature difference 11.1 K. Gauge and absolute
pressure never stand in for each other.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.physics.number_text import LARGEST, QuantityError, quoted, split_number
from engine.physics.units import (
    SI_UNIT,
    Kind,
    Unit,
    canonical_unit,
    difference_of,
    find_unit,
    from_si,
    require_unit,
    spelling,
    to_si,
    units_of,
)

__all__ = [
    "OVER_LIMIT_OHM",
    "SI_UNIT",
    "Kind",
    "Parsed",
    "QuantityError",
    "canonical_unit",
    "check_possible",
    "difference_of",
    "from_si",
    "parse",
    "parse_any",
    "show",
    "to_si",
    "units_of",
]

OVER_LIMIT_OHM = LARGEST
"""What a meter's `OL` (over limit) is kept as, in ohm: above every range of a shop meter."""

_OVER_LIMIT_WORDS = ("ol", "o.l", "o.l.", "0l")

_KIND_WORDS = {
    Kind.PRESSURE: "a gauge pressure",
    Kind.ABSOLUTE_PRESSURE: "an absolute pressure",
    Kind.RATIO: "a percentage",
    Kind.RATIO_DIFFERENCE: "a difference of percentages",
    Kind.SPEED: "a speed of rotation",
    Kind.NUMBER: "a plain number",
}


@dataclass(frozen=True, slots=True)
class Parsed:
    """One typed value: its SI value, the unit and number as understood, the text as typed."""

    si: float
    unit: str
    number: float
    text: str
    kind: Kind


def kind_words(kind: Kind) -> str:
    """The kind with its article, for a sentence: `a gauge pressure`, `a temperature difference`."""
    return _KIND_WORDS.get(kind, f"a {kind.replace('_', ' ')}")


def parse(text: str, kind: Kind, unit: str) -> Parsed:
    """What `text` says, as a value of `kind`; a bare number takes `unit`.

    Raises QuantityError with one sentence for the person (unreadable number, unknown unit, wrong quantity),
    and ValueError if `unit` itself is no unit of `kind` (a mistake in code or flow).

    >>> parse("2,8 bar", Kind.PRESSURE, "psi").si
    280000.0
    """
    default = require_unit(unit, kind)
    if kind is Kind.RESISTANCE and spelling(text) in _OVER_LIMIT_WORDS:
        return Parsed(OVER_LIMIT_OHM, "ohm", OVER_LIMIT_OHM, text, kind)
    number, rest = split_number(text)
    found = _unit_asked(text, rest, kind) if rest else default
    return _parsed(text, number, found, kind)


def parse_any(text: str) -> Parsed:
    """What `text` says; its unit is required and decides the kind (`psi` is gauge, `degF` a temperature).

    Raises QuantityError with one sentence.
    """
    if spelling(text) in _OVER_LIMIT_WORDS:
        return parse(text, Kind.RESISTANCE, "ohm")
    number, rest = split_number(text)
    if not rest:
        raise QuantityError(f"{quoted(text)} needs its unit, for instance psi, kPa, degC or degF.")
    _refuse_unclear_unit(text, rest)
    for kind in Kind:
        found = find_unit(rest, kind)
        if found is not None:
            return _parsed(text, number, found, kind)
    raise QuantityError(
        f"{quoted(rest)} is no unit known here; use for instance psi, kPa, degC, percent or ohm."
    )


def show(si: float, kind: Kind, unit: str) -> str:
    """An SI value as text in `unit`, with no more digits than the trade reads: `41 psi`, `-3 degC`.

    A pressure above zero is never shown as a negative vacuum: it appears in psi, as on a compound gauge.
    Raises ValueError if `unit` is no unit of `kind`.
    """
    found = require_unit(unit, kind)
    if kind is Kind.RESISTANCE and si >= OVER_LIMIT_OHM:
        return "OL"
    if found.times < 0 < si:
        found = require_unit("psi", kind)
    digits = f"{from_si(si, found.name, kind):.{found.decimals}f}"
    if "." in digits:
        digits = digits.rstrip("0").rstrip(".")
    digits = "0" if digits == "-0" else digits
    return digits if kind is Kind.NUMBER else f"{digits} {found.name}"


_NEVER_NEGATIVE = (Kind.ABSOLUTE_PRESSURE, Kind.RESISTANCE, Kind.FREQUENCY, Kind.SPEED, Kind.MASS, Kind.TIME)


def check_possible(si: float, kind: Kind, atmosphere_pa: float = 101325.0) -> str | None:
    """A sentence if no instrument could truthfully show this value, else None.

    `atmosphere_pa` is the surrounding air's absolute pressure: no gauge reads further below zero than that.
    """
    if kind is Kind.PRESSURE and si < -atmosphere_pa * 1.001:  # 0.1 % for rounding of a barometer
        deepest = " or ".join(show(-atmosphere_pa, kind, unit) for unit in ("psi", "kPa", "inHg vac"))
        return (
            f"No gauge reads below a perfect vacuum, which is {deepest} here; check the number and its unit."
        )
    if kind is Kind.TEMPERATURE and si <= 0.0:
        return "That is below absolute zero (-273.15 degC, -459.67 degF); check the number and its unit."
    if kind is Kind.RATIO and not 0.0 <= si <= 1.0:
        return "A percentage lies between 0 and 100 percent; check the number."
    if kind in _NEVER_NEGATIVE and si < 0.0:
        return f"{kind_words(kind).capitalize()} is never below zero; check the sign."
    return None


def _parsed(text: str, number: float, unit: Unit, kind: Kind) -> Parsed:
    if unit.times < 0 and number < 0:
        raise QuantityError(
            f"{quoted(text)}: vacuum counts upwards from zero; write {-number:g} {unit.name}."
        )
    return Parsed(to_si(number, unit.name, kind), unit.name, number, text, kind)


def _unit_asked(text: str, rest: str, kind: Kind) -> Unit:
    _refuse_unclear_unit(text, rest)
    found = find_unit(rest, kind)
    if found is not None:
        return found
    units = _listed(units_of(kind))
    other = next((k for k in Kind if find_unit(rest, k)), None)
    if other is None:
        raise QuantityError(f"{quoted(rest)} is no unit known here; {kind_words(kind)} is given in {units}.")
    if spelling(rest) == "inhg" and kind is Kind.PRESSURE:
        raise QuantityError(f"{quoted(text)} could be a barometer's reading; for a vacuum write inHg vac.")
    raise QuantityError(
        f"{quoted(text)}: that is {kind_words(other)}; this asks for {kind_words(kind)} ({units})."
    )


def _refuse_unclear_unit(text: str, rest: str) -> None:
    if rest[0] == "m" and spelling(rest) in ("mohm", "mohms", "mω"):
        raise QuantityError(f"{quoted(text)} could be milliohm or megohm; write it in ohm or in Mohm.")


def _listed(words: tuple[str, ...]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
