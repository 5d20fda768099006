"""The static gate: what equal pressures at rest say about the charge, and what they cannot.

With any liquid inside, both sides rest at the saturation pressure of the coldest part, a third full and
overfull alike. So on the line proves only that some liquid is there; below it there is none; above it there
is air, another refrigerant, or a part warmer than the air it is compared with.
"""

from __future__ import annotations

GATE_MARGIN_PA = 45e3
"""How far under saturation still counts as liquid. A service manual's least static pressures of R-134a (345,
483, 690 kPa gauge above 16, 24, 33 degC: references.md 4c) sit 47 to 61 kPa under saturation; 45 kPa, the
worth of 2 to 3 K, is not laxer anywhere."""

ABOVE_MARGIN_PA = 69e3
"""How far above saturation before air is called: 10 psi, about 3.5 K. Common practice, no source."""

EMPTY_PA = 69e3
"""Gauge pressure under which a system is called empty: 10 psi. Common practice, no published source."""


def static_charge(static_gauge_pa: float, saturation_gauge_pa: float) -> str | None:
    """`empty`, `low`, `liquid` or `above`, for a system at rest and soaked; both arguments in Pa gauge.

    `saturation_gauge_pa` belongs to the contents and the ambient temperature
    (`refrigerant.saturation_gauge_pressure`). None where it is so cold (about -8 degC for R-134a) that an
    empty system and a charged one read alike. Says nothing about how much liquid there is.
    """
    least_pa = saturation_gauge_pa - GATE_MARGIN_PA
    if least_pa <= EMPTY_PA:
        return None
    if static_gauge_pa < EMPTY_PA:
        return "empty"
    if static_gauge_pa < least_pa:
        return "low"
    return "liquid" if static_gauge_pa <= saturation_gauge_pa + ABOVE_MARGIN_PA else "above"
