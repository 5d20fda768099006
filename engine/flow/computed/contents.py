"""What is in the system: is the refrigerant proved, and may saturation be used?

Contents that are not the labelled refrigerant end every inference from saturation; contents that were never
tested do not (common practice, no published source): the values are worked out, and a flow that would draw a
verdict from them asks for `identity is proved` beside.
"""

from __future__ import annotations

from engine.flow.computed.lookup import number, word, words
from engine.flow.model import Facts

PURE_ENOUGH = 0.98
"""Share of the labelled refrigerant, without air, from which an identifier passes it (common practice, no
published source)."""

SPOILING = frozenset({"air", "hydrocarbon", "other-refrigerant"})
"""Contamination that shifts the pressure at a given temperature. Sealant does not; it spoils machines."""


def identity(facts: Facts) -> str | None:
    """`proved` by an identifier, `assumed` from the label, or `wrong`; None if the label is unknown.

    `wrong` are other refrigerants than we have properties of, air, flammable gas or another refrigerant
    found, and a purity under 98 percent.
    """
    refrigerant = word(facts, "refrigerant")
    found = words(facts, "contamination")
    if refrigerant == "other" or (found is not None and found & SPOILING) or _is_impure(facts):
        return "wrong"
    if refrigerant is None:
        return None
    return "assumed" if found is None and number(facts, "refrigerant_purity") is None else "proved"


def _is_impure(facts: Facts) -> bool:
    purity = number(facts, "refrigerant_purity")
    return purity is not None and purity < PURE_ENOUGH


def saturation_trusted(facts: Facts) -> str | None:
    """Whether a verdict may rest on saturation: `yes` only if the identity is proved."""
    proved = word(facts, "identity")
    return None if proved is None else "yes" if proved == "proved" else "no"


def saturating(facts: Facts) -> str | None:
    """The refrigerant whose saturation may be worked out: the label's, unless the contents differ."""
    return None if word(facts, "identity") == "wrong" else word(facts, "refrigerant")


def only_air(facts: Facts) -> bool:
    """Whether air was found, and nothing else that spoils the label's refrigerant."""
    return words(facts, "contamination") == frozenset({"air"}) and not _is_impure(facts)


def charge_share(facts: Facts) -> float | None:
    """Recovered charge over the label's charge, a ratio; None if either is unknown or the label says none."""
    recovered, label = number(facts, "recovered_charge"), number(facts, "label_charge")
    return recovered / label if recovered is not None and label else None
