"""Instruments of a shop: what they show of a true value. SI units throughout.

An instrument is off by a bias that stays through a job (drawn once) and by noise that is new at every
reading,
and shows steps. All figures are our assumption, from the accuracy classes such tools are sold with: manifold
gauges class 1.6 (low side of 1.7 MPa read to 1 psi, high side of 3.5 MPa read to 2 psi), contact and air
probes
about 0.5-1 K, hand multimeters 1 % and one digit, charging scales 10 g.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random
from types import MappingProxyType

from engine.physics.quantity import Kind, from_si, to_si
from engine.physics.units import PSI

__all__ = ["INSTRUMENTS", "Instrument", "bias_of", "read", "written"]


@dataclass(frozen=True, slots=True)
class Instrument:
    """`bias` and `noise` are standard deviations in SI, `share` one of the value (bias). `step` is what it
    shows in `unit`."""

    kind: Kind
    unit: str
    step: float
    bias: float = 0.0
    noise: float = 0.0
    share: float = 0.0


INSTRUMENTS: Mapping[str, Instrument] = MappingProxyType(
    {
        "low gauge": Instrument(Kind.PRESSURE, "psi", 1.0, bias=0.8 * PSI, noise=0.4 * PSI),
        "high gauge": Instrument(Kind.PRESSURE, "psi", 2.0, bias=2.0 * PSI, noise=1.0 * PSI),
        "scan pressure": Instrument(Kind.PRESSURE, "psi", 1.0, bias=3.0 * PSI, noise=0.7 * PSI),
        "air probe": Instrument(Kind.TEMPERATURE, "degC", 0.1, bias=0.4, noise=0.2),
        "weather probe": Instrument(Kind.TEMPERATURE, "degC", 0.5, bias=0.4, noise=0.3),
        "contact probe": Instrument(Kind.TEMPERATURE, "degC", 0.1, bias=0.6, noise=0.4),
        "scan temperature": Instrument(Kind.TEMPERATURE, "degC", 0.5, bias=0.7, noise=0.2),
        "vent difference": Instrument(Kind.TEMPERATURE_DIFFERENCE, "K", 0.1, noise=0.4),
        "hygrometer": Instrument(Kind.RATIO, "percent", 1.0, bias=0.03, noise=0.01),
        "duty meter": Instrument(Kind.RATIO, "percent", 0.1, bias=0.005, noise=0.004),
        "scan duty": Instrument(Kind.RATIO, "percent", 1.0, noise=0.004),
        "identifier": Instrument(Kind.RATIO, "percent", 0.1, noise=0.003),
        "current clamp": Instrument(Kind.CURRENT, "A", 0.01, bias=0.01, noise=0.005, share=0.01),
        "voltmeter": Instrument(Kind.VOLTAGE, "V", 0.1, noise=0.03, share=0.005),
        "ohmmeter": Instrument(Kind.RESISTANCE, "ohm", 0.1, bias=0.03, noise=0.03, share=0.008),
        "frequency meter": Instrument(Kind.FREQUENCY, "Hz", 1.0, noise=1.0),
        "tachometer": Instrument(Kind.SPEED, "1/min", 10.0, noise=0.3),
        "scale": Instrument(Kind.MASS, "g", 5.0, bias=0.006, noise=0.004),
        "map": Instrument(Kind.LENGTH, "m", 100.0),
        "barometer": Instrument(Kind.ABSOLUTE_PRESSURE, "kPaa", 0.1, bias=150.0),
        "stopwatch": Instrument(Kind.TIME, "s", 1.0, noise=0.7),
        "clock": Instrument(Kind.TIME, "min", 0.5),
        "label": Instrument(Kind.MASS, "g", 5.0),
        "data pressure": Instrument(Kind.PRESSURE, "psi", 1.0),
        "data current": Instrument(Kind.CURRENT, "A", 0.01),
    }
)
"""By name. "label", "map" and "data" are read off, without error."""


def bias_of(instrument: Instrument, chance: Random) -> tuple[float, float]:
    """The error of one specimen for a whole job: SI offset, and share of the value. Kept within two
    deviations.
    """
    return _drawn(chance, instrument.bias), _drawn(chance, instrument.share)


def read(true: float, instrument: Instrument, bias: tuple[float, float], chance: Random) -> float:
    """What it shows of a true SI value, in its own unit and steps."""
    shown = true * (1.0 + bias[1]) + bias[0] + _drawn(chance, instrument.noise)
    if instrument.kind is Kind.RATIO:
        shown = min(max(shown, 0.0), 1.0)
    return round(from_si(shown, instrument.unit, instrument.kind) / instrument.step) * instrument.step


def written(shown: float, instrument: Instrument, unit: str) -> str:
    """As a person types it for a field that shows `unit`: a bare number, converted if that is another
    unit.
    """
    if unit == instrument.unit:
        digits = 0 if instrument.step >= 1.0 else 2 if instrument.step < 0.1 else 1
        text = f"{shown:.{digits}f}"
    else:
        text = f"{from_si(to_si(shown, instrument.unit, instrument.kind), unit, instrument.kind):.6g}"
    return "0" if float(text) == 0.0 else text


def _drawn(chance: Random, deviation: float) -> float:
    return deviation * min(max(chance.gauss(0.0, 1.0), -2.0), 2.0)
