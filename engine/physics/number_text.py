"""Reading a decimal number out of what a person typed.

Written by us because a number field of the screen library turns `2,5` into 25, and Python's `float` takes
`1e3`, `nan` and digits of other scripts. Decimal comma and decimal point are equal; thousands separators are
refused, and so is the one spelling that could be either: `1,234`.
"""

from __future__ import annotations

import re

LONGEST_TEXT = 40
"""Characters. A reading with its unit needs under 20; more is a slip of paste."""

MOST_DIGITS = 15
"""Significant digits a double keeps exactly; no instrument in a shop gives more than 6."""

LARGEST = 1e9
"""The largest number taken, in whatever unit: 1000 Mohm in ohm is the largest that could be meant."""

_NUMBER = re.compile(r"(?P<sign>[-+]?) ?(?P<whole>[0-9]*)(?:[.,](?P<part>[0-9]*))?")
_EXPONENT = re.compile(r"[-+]? ?[0-9.,]+[eE][-+]?[0-9]+")
_NO_NUMBER = re.compile(r"[-+]? ?(nan|inf|infinity|∞)\b|[-+]? ?∞", re.IGNORECASE)


class QuantityError(ValueError):
    """What was typed cannot be taken; the message is one sentence for the person who typed it."""


def quoted(text: str) -> str:
    """`text` in quotes, safe to show: control codes become `?` and long text is cut."""
    clean = "".join(c if c.isprintable() else "?" for c in text.strip())
    return f"'{clean[:LONGEST_TEXT]}…'" if len(clean) > LONGEST_TEXT else f"'{clean}'"


def split_number(text: str) -> tuple[float, str]:
    """The number that `text` begins with, and the rest (the unit, perhaps empty).

    Takes both minus signs (- and U+2212), any white space, decimal comma or point.
    Raises QuantityError with a remedy for everything else.
    """
    plain = " ".join(text.replace("\u2212", "-").split())
    _refuse_hopeless(text, plain)
    match = _NUMBER.match(plain)
    whole, part = (match["whole"], match["part"] or "") if match else ("", "")
    if match is None or not whole + part:
        raise QuantityError(f"{quoted(text)} does not begin with a number; write for instance 41 or 2.8.")
    rest = plain[match.end() :]
    _refuse_separators(text, match[0], whole, part, rest)
    return _value(text, match["sign"], whole, part), rest.strip()


def _refuse_hopeless(text: str, plain: str) -> None:
    if not plain:
        raise QuantityError("Nothing was typed; type a number, or say that it cannot be measured.")
    if len(plain) > LONGEST_TEXT:
        raise QuantityError(f"{quoted(text)} is too long; type one number and its unit.")
    if any(c.isnumeric() and not c.isascii() and c not in "²³" for c in plain):
        raise QuantityError(f"{quoted(text)} has digits of another script; use the digits 0 to 9.")
    if _NO_NUMBER.match(plain):
        raise QuantityError(f"{quoted(text)} is not a measured number; type what the instrument shows.")
    if _EXPONENT.match(plain):
        raise QuantityError(f"{quoted(text)} has an exponent; write the number out, 1000 instead of 1e3.")


def _refuse_separators(text: str, number: str, whole: str, part: str, rest: str) -> None:
    unit = rest.lstrip()
    per_time = rest != unit and unit.startswith(
        "1/"
    )  # 1500 1/min: a unit may begin with a digit, after a space
    if unit[:1] in tuple("0123456789.,'+-_") and not per_time:
        raise QuantityError(
            f"{quoted(text)} is not one plain number; write it with one decimal point or comma and nothing "
            "between the thousands, 1234.5 for instance."
        )
    if "," in number and len(part) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
        raise QuantityError(
            f"{quoted(text)} has an unclear comma; write {whole}.{part} or {whole}{part}, as it is meant."
        )


def _value(text: str, sign: str, whole: str, part: str) -> float:
    if len((whole + part).lstrip("0")) > MOST_DIGITS:
        raise QuantityError(f"{quoted(text)} has more digits than any instrument shows; round it.")
    value = float(f"{sign}{whole or 0}.{part or 0}")
    if abs(value) > LARGEST:
        raise QuantityError(f"{quoted(text)} is larger than anything measured here; check number and unit.")
    return value + 0.0
