"""The pressures at rest: is there liquid, does something else press beside it, do the sensors agree?"""

from __future__ import annotations

from engine.flow.computed.contents import only_air, saturating
from engine.flow.computed.lookup import difference, number, word
from engine.flow.model import Facts
from engine.physics import static
from engine.physics.refrigerant import RefrigerantError, saturation_gauge_pressure
from engine.physics.units import PSI

_GATED = frozenset({"R-134a", "R-1234yf", "R-152a"})
# R-744 has no saturation in a hot bay, and its pressures make these margins meaningless.


def _resting(facts: Facts, refrigerant: str | None) -> tuple[str, float, float] | None:
    """Refrigerant, temperature of the coldest part (else ambient) in K, and air pressure in Pa."""
    around = number(facts, "atmospheric_pressure")
    coldest = number(facts, "contact_temperature")
    coldest = number(facts, "ambient_temperature") if coldest is None else coldest
    if refrigerant is None or around is None or coldest is None:
        return None
    return refrigerant, coldest, around


def static_saturation(facts: Facts) -> float | None:
    """Gauge pressure that liquid would hold at rest, Pa, at the coldest part's temperature, else ambient."""
    resting = _resting(facts, saturating(facts))
    try:
        return None if resting is None else saturation_gauge_pressure(*resting)
    except RefrigerantError:
        return None


_AGREE_PA = 10 * PSI
"""Two gauges at rest agree within this (common practice, no published source)."""


def _sides(facts: Facts) -> list[float]:
    given = (number(facts, "static.low_side"), number(facts, "static.high_side"))
    return [side for side in given if side is not None]


def _at_rest(facts: Facts) -> float | None:
    """The lower side at rest, or the only one: air is never called from the higher."""
    return min(_sides(facts), default=None)


def _gate_reading(facts: Facts) -> float | None:
    """What the gate judges: gauges that agree show one pressure, best told by their mean; else the lower."""
    sides = _sides(facts)
    if len(sides) == 2 and abs(sides[0] - sides[1]) <= _AGREE_PA:
        return sum(sides) / 2.0
    return _at_rest(facts)


def static_over_saturation(facts: Facts) -> float | None:
    """Pressure at rest over saturation, Pa; only after a soak, because liquid sits in the coldest part."""
    rest, saturation = _at_rest(facts), number(facts, "static_saturation")
    if rest is None or saturation is None or word(facts, "soaked") != "yes":
        return None
    return rest - saturation


def _gate(facts: Facts) -> float | None:
    """The gate of the label's refrigerant: air beside it only adds to what liquid presses (Dalton)."""
    resting = _resting(facts, word(facts, "refrigerant"))
    try:
        return None if resting is None else static.least_with_liquid(*resting)
    except RefrigerantError:
        return None


def static_charge(facts: Facts) -> str | None:
    """`empty`, `low` (no liquid), `liquid` (some, never how much) or `above` (more than liquid would press).

    `above` is only called after a soak: without one, warm parts press more, and only the gate is judged.
    Beside air a pressure under the gate still shows that there is no liquid, and one over it shows nothing.
    None for R-744, in deep cold, and while saturation is unknown, except that an empty system shows on any
    gauge.
    """
    rest, saturation = _gate_reading(facts), number(facts, "static_saturation")
    if rest is None or word(facts, "refrigerant") not in _GATED:
        return None
    least = _gate(facts)
    if saturation is None or least is None:
        return _without_saturation(rest, least if only_air(facts) else None)
    charge = static.static_charge(rest, saturation, least)
    return "liquid" if charge == "above" and word(facts, "soaked") != "yes" else charge


def _without_saturation(rest: float, least: float | None) -> str | None:
    if rest < static.EMPTY_PA:
        return "empty"
    return "low" if least is not None and rest < least else None


def evaporator_sensor_gap(facts: Facts) -> float | None:
    """Evaporator sensor less ambient, K; only after a soak, when both must agree."""
    if word(facts, "soaked") != "yes":
        return None
    return difference(facts, "evaporator_sensor", "ambient_temperature")


def pressure_sensor_gap(facts: Facts) -> float | None:
    """Pressure sensor less high-side gauge at rest, Pa."""
    return difference(facts, "pressure_sensor", "static.high_side")
