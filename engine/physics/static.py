"""The static gate: what equal pressures at rest say about the charge, and what they cannot.

With any liquid inside, both sides rest at the saturation pressure of the coldest part, a third full and
overfull alike. So on the line proves only that some liquid is there; below it there is none; above it there
is air, another refrigerant, or a part warmer than the air it is compared with.
"""

from __future__ import annotations

import math

from engine.physics.refrigerant import saturation_gauge_pressure
from engine.physics.units import ZERO_C

GATE_MARGIN_PA = 45e3
"""The least by which a pressure must be under saturation to show that there is no liquid: what two gauges and
their zero are worth. Common practice, no published source."""

GATE_MARGIN_K = 3.0
"""The same as temperature: a probe's error of 1 K, and 2 K by which a soaked car may be colder or warmer than
the air it is compared with (common practice, no published source). Above about 18 degC this is the larger."""

_PRINTED_LEAST = ((33.0, 690e3), (24.0, 483e3), (16.0, 345e3))
"""degC and Pa gauge: the least static pressure of R-134a above that temperature to go on with a test, from a
service manual, maker withheld (references.md 4c). The gate is nowhere laxer: from 33 to 34 degC, where the
rule has just stepped up to 47 kPa (2.1 K) under saturation, it takes the margin's place."""


ABOVE_MARGIN_PA = 69e3
"""How far above saturation before air is called: 10 psi, about 3.5 K. Common practice, no source."""

EMPTY_PA = 69e3
"""Gauge pressure under which a system is called empty: 10 psi. Common practice, no published source."""


def least_with_liquid(name: str, kelvin: float, atmosphere_pa: float) -> float:
    """The gate: the least pressure at rest, Pa gauge, that still counts as saturation of refrigerant `name`.

    `kelvin` is the temperature of the coldest part. Raises RefrigerantError outside the tables.
    """
    saturation = saturation_gauge_pressure(name, kelvin, atmosphere_pa)
    colder = saturation_gauge_pressure(name, kelvin - GATE_MARGIN_K, atmosphere_pa)
    return max(min(saturation - GATE_MARGIN_PA, colder), _printed_least(name, kelvin))


def _printed_least(name: str, kelvin: float) -> float:
    if name != "R-134a":
        return -math.inf
    return next((least for celsius, least in _PRINTED_LEAST if kelvin - ZERO_C >= celsius), -math.inf)


def static_charge(static_gauge_pa: float, saturation_gauge_pa: float, least_gauge_pa: float) -> str | None:
    """`empty`, `low`, `liquid` or `above`, for a system at rest and soaked; all arguments in Pa gauge.

    `saturation_gauge_pa` belongs to the contents and the ambient temperature
    (`refrigerant.saturation_gauge_pressure`), `least_gauge_pa` is the gate there (`least_with_liquid`). None
    where it is so cold (about -8 degC for R-134a) that an empty system and a charged one read alike. Says
    nothing about how much liquid there is.
    """
    if least_gauge_pa <= EMPTY_PA:
        return None
    if static_gauge_pa < EMPTY_PA:
        return "empty"
    if static_gauge_pa < least_gauge_pa:
        return "low"
    return "liquid" if static_gauge_pa <= saturation_gauge_pa + ABOVE_MARGIN_PA else "above"
