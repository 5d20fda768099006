"""What a vehicle is in: weather, place, engine, panel settings, and what the technician does to it."""

from __future__ import annotations

from dataclasses import dataclass

from engine.physics.atmosphere import SEA_LEVEL_PA

__all__ = ["OutsideEnvelope", "Situation", "check_envelope"]


class OutsideEnvelope(ValueError):
    """A situation the model does not cover; the message names the value and the range."""


@dataclass(frozen=True, slots=True)
class Situation:
    """SI units. Envelope: ambient 5-48 degC (below, down to -20 degC, answered as locked out), humidity
    0.10-0.95, atmosphere 70-105 kPa, engine 0 or 700-4000 1/min (11.6-66.7 1/s)."""

    ambient_k: float
    relative_humidity: float = 0.5
    """Of the ambient air, 0 to 1."""
    atmosphere_pa: float = SEA_LEVEL_PA
    engine_speed: float = 25.0
    """1/s; 0 = engine off. 25 is 1500 1/min."""
    ac_on: bool = True
    blower: float = 0.5
    """0 = lowest step, 1 = highest. Whether the fan moves air at all is Effects.evaporator_airflow."""
    intake: str = "recirculation"
    """recirculation | fresh"""
    doors_open: bool = False
    windows_open: bool = False
    cabin_start_k: float | None = None
    """Cabin air when this set began; None = as warm as ambient."""
    cabin_start_ratio: float | None = None
    """Its humidity ratio, kg/kg; None = as outside."""
    settled_s: float = 300.0
    """How long these settings have stood: the cabin cools for so long (the circuit is taken as settled)."""
    command: str | None = None
    """None = the car's own control; minimum | maximum = held by scan tool."""
    unplugged: bool = False
    """Stroke solenoid unplugged: no current reaches the valve."""
    condenser_wetted: bool = False
    valve_head: str = ""
    """What is done to the power head of the expansion valve: chilled (with ice: it closes as far as it can) |
    warmed (it opens as far as it can); empty = nothing."""
    bonnet_open: bool = True
    front_air_m_s: float = 0.0
    """Air speed before the grille: driving wind or a stand fan."""
    frost_m: float = 0.0
    """Frost on the evaporator, an input: it grows over minutes, the state here is one moment."""
    ice_in_valve: float = 1.0
    """How much of Effects.moisture_ice has frozen: 1 = after a run, 0 = after ten minutes of rest."""
    soaked_minutes: float = 240.0
    """Engine off since so long: how near condenser, drier and evaporator are to ambient at rest."""
    sun_on_condenser_k: float = 0.0
    """Engine off: how much warmer than ambient the liquid's coldest place stays."""


_LOWEST_K, _HIGHEST_K = 253.15, 321.15
_GRACE = 1e-6


def check_envelope(situation: Situation) -> None:
    """Raises OutsideEnvelope with a sentence if the model does not cover `situation`."""
    s = situation
    _within("ambient temperature", s.ambient_k - 273.15, _LOWEST_K - 273.15, _HIGHEST_K - 273.15, "degC")
    _within("relative humidity", s.relative_humidity * 100.0, 10.0, 95.0, "percent")
    _within("air pressure", s.atmosphere_pa / 1e3, 70.0, 108.0, "kPa")
    _within("blower", s.blower, 0.0, 1.0, "of its range")
    if s.engine_speed != 0.0:
        _within("engine speed", s.engine_speed * 60.0, 700.0, 4000.0, "1/min")
    if s.intake not in ("recirculation", "fresh"):
        raise OutsideEnvelope(f"The intake is recirculation or fresh, not {s.intake!r}.")
    if s.valve_head not in ("", "chilled", "warmed"):
        raise OutsideEnvelope(f"A valve's head is chilled or warmed, not {s.valve_head!r}.")
    if s.command not in (None, "minimum", "maximum"):
        raise OutsideEnvelope(f"A scan tool commands minimum or maximum, not {s.command!r}.")


def _within(what: str, value: float, low: float, high: float, unit: str) -> None:
    if not low - _GRACE <= value <= high + _GRACE:
        raise OutsideEnvelope(
            f"The simulated vehicle has no answer at {what} {value:g} {unit}: "
            f"it is made for {low:g} to {high:g} {unit}. Choose a value inside."
        )
