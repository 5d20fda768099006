"""Readings of a set that rest on saturation: condensing, evaporating, superheat, subcooling.

All are None while a reading they need is unknown, when the contents are not what the label says, or when the
pressure lies outside the refrigerant's table.
"""

from __future__ import annotations

from collections.abc import Callable

from engine.flow.computed.contents import saturating
from engine.flow.computed.lookup import number
from engine.flow.computed.sides import absolute
from engine.flow.model import Facts
from engine.physics.refrigerant import (
    RefrigerantError,
    dew_temperature,
    subcooling,
    superheat,
)


def condensing_temperature(facts: Facts, set_name: str) -> float | None:
    """Dew temperature at the high side, K."""
    return _at_pressure(facts, f"{set_name}.high_side", dew_temperature)


def evaporating_temperature(facts: Facts, set_name: str) -> float | None:
    """Dew temperature at the low side, K."""
    return _at_pressure(facts, f"{set_name}.low_side", dew_temperature)


def _at_pressure(facts: Facts, gauge_name: str, temperature: Callable[[str, float], float]) -> float | None:
    refrigerant, pressure = saturating(facts), absolute(facts, gauge_name)
    if refrigerant is None or pressure is None:
        return None
    try:
        return temperature(refrigerant, pressure)
    except RefrigerantError:
        return None


def condensing_over_ambient(facts: Facts, set_name: str) -> float | None:
    """Condensing temperature over the air at the condenser face, else over ambient, K."""
    condensing = number(facts, f"{set_name}.condensing_temperature")
    air = number(facts, "condenser_air_temperature")
    air = number(facts, "ambient_temperature") if air is None else air
    return None if condensing is None or air is None else condensing - air


def superheat_at(line: str) -> Callable[[Facts, str], float | None]:
    """Superheat of the line's temperature over the low side's dew temperature, K."""
    return _against("low_side", line, superheat)


def discharge_superheat(facts: Facts, set_name: str) -> float | None:
    """Superheat of the discharge over the high side's dew temperature, K."""
    return _against("high_side", "discharge_temperature", superheat)(facts, set_name)


def subcooling_at(line: str) -> Callable[[Facts, str], float | None]:
    """Subcooling of the line's temperature under the high side's bubble temperature, K."""
    return _against("high_side", line, subcooling)


def _against(
    side: str, line: str, gap: Callable[[str, float, float], float]
) -> Callable[[Facts, str], float | None]:
    def compute(facts: Facts, set_name: str) -> float | None:
        temperature = number(facts, f"{set_name}.{line}")
        if temperature is None:
            return None
        return _at_pressure(
            facts, f"{set_name}.{side}", lambda refrigerant, pressure: gap(refrigerant, pressure, temperature)
        )

    return compute
