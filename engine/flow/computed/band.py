"""Low, normal or high: a set's readings against a healthy vehicle in the same conditions."""

from __future__ import annotations

from collections.abc import Callable

from engine.flow.computed.contents import saturating
from engine.flow.computed.lookup import SET_LOAD, SET_SPEED, number, word
from engine.flow.model import Facts
from engine.physics.bands import Band, Conditions, band
from engine.physics.refrigerant import RefrigerantError


def conditions(facts: Facts, set_name: str) -> Conditions | None:
    """What the set was taken in; None if the flow declares no such set, or the air is out of range.

    Speed is the recorded one, else the one the flow declares for the set. The command is `unknown` while
    nothing tells it, which widens the bands.
    """
    load, around = word(facts, f"{set_name}.{SET_LOAD}"), number(facts, "atmospheric_pressure")
    if load is None or around is None:
        return None
    speed = number(facts, f"{set_name}.engine_speed")
    return Conditions(
        refrigerant=saturating(facts),
        ambient_k=number(facts, "ambient_temperature"),
        load=load,
        command=word(facts, f"{set_name}.command_state") or "unknown",
        humidity=number(facts, "relative_humidity"),
        atmosphere_pa=around,
        speed=number(facts, f"{set_name}.{SET_SPEED}") if speed is None else speed,
        intake_k=number(facts, f"{set_name}.intake_temperature"),
    )


def band_of(facts: Facts, set_name: str, reading: str) -> Band | None:
    """The band with its source; `reading` is `low_side`, `high_side` or `vent_temperature`."""
    here = conditions(facts, set_name)
    if here is None:
        return None
    try:
        return band(here, reading)
    except RefrigerantError:
        return None


def band_word(reading: str) -> Callable[[Facts, str], str | None]:
    """`low`, `normal` or `high` for that reading of a set, or None without a band or without the reading."""

    def compute(facts: Facts, set_name: str) -> str | None:
        value = number(facts, f"{set_name}.{reading}")
        if value is None:
            return None
        healthy = band_of(facts, set_name, reading)
        return None if healthy is None else healthy.word(value)

    return compute
